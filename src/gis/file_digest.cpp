#include "loopwalk/gis/file_digest.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include <openssl/evp.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <memory>
#include <string_view>
#include <system_error>
#include <vector>

namespace loopwalk::gis {

namespace {

[[noreturn]] void cannot_read(const std::string& path, int reason) {
    throw base::InputError("cannot read file \"" + path +
                           "\": " + std::generic_category().message(reason));
}

void must(bool ok) {
    if (!ok) {
        throw base::InternalError("the SHA-256 function of libcrypto failed");
    }
}

std::string hexadecimal(const unsigned char* bytes, std::size_t count) {
    constexpr std::string_view kDigits = "0123456789abcdef";
    std::string text;
    for (std::size_t i = 0; i < count; ++i) {
        text += kDigits[bytes[i] >> 4U];
        text += kDigits[bytes[i] & 15U];
    }
    return text;
}

} // namespace

FileDigest digest_file(const std::string& path) {
    constexpr std::size_t kBlock = std::size_t{1} << 20U;
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"),
                                                               &std::fclose);
    if (file == nullptr) {
        cannot_read(path, errno);
    }
    const std::unique_ptr<EVP_MD_CTX, void (*)(EVP_MD_CTX*)> context(EVP_MD_CTX_new(),
                                                                     &EVP_MD_CTX_free);
    must(context != nullptr && EVP_DigestInit_ex(context.get(), EVP_sha256(), nullptr) == 1);
    FileDigest digest;
    std::vector<unsigned char> block(kBlock);
    while (const std::size_t read = std::fread(block.data(), 1, block.size(), file.get())) {
        must(EVP_DigestUpdate(context.get(), block.data(), read) == 1);
        digest.size += read;
        stop_if_asked();
    }
    if (std::ferror(file.get()) != 0) {
        cannot_read(path, errno);
    }
    std::array<unsigned char, EVP_MAX_MD_SIZE> bytes{};
    unsigned int count = 0;
    must(EVP_DigestFinal_ex(context.get(), bytes.data(), &count) == 1);
    digest.sha256 = hexadecimal(bytes.data(), count);
    return digest;
}

} // namespace loopwalk::gis

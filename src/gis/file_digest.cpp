#include "loopwalk/gis/file_digest.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/interrupt.hpp"

#include <openssl/evp.h>
#include <openssl/rand.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <memory>
#include <span>
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
        throw base::InternalError("a function of libcrypto failed");
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

using Block = std::span<const unsigned char>;

template <typename Use>
void for_each_block(const std::string& path, Use&& use) {
    constexpr std::size_t kBlock = std::size_t{1} << 18U; // stays in the cache for a second use
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"),
                                                               &std::fclose);
    if (file == nullptr) {
        cannot_read(path, errno);
    }
    std::vector<unsigned char> block(kBlock);
    while (const std::size_t read = std::fread(block.data(), 1, block.size(), file.get())) {
        use(Block(block).first(read));
        stop_if_asked();
    }
    if (std::ferror(file.get()) != 0) {
        cannot_read(path, errno);
    }
}

class Sha256 {
  public:
    Sha256() {
        must(m_context != nullptr &&
             EVP_DigestInit_ex(m_context.get(), EVP_sha256(), nullptr) == 1);
    }
    void add(Block block) {
        must(EVP_DigestUpdate(m_context.get(), block.data(), block.size()) == 1);
    }
    [[nodiscard]] std::string finish() {
        std::array<unsigned char, EVP_MAX_MD_SIZE> bytes{};
        unsigned int count = 0;
        must(EVP_DigestFinal_ex(m_context.get(), bytes.data(), &count) == 1);
        return hexadecimal(bytes.data(), count);
    }

  private:
    std::unique_ptr<EVP_MD_CTX, void (*)(EVP_MD_CTX*)> m_context{EVP_MD_CTX_new(),
                                                                 &EVP_MD_CTX_free};
};

constexpr std::size_t kTag = 16; // bytes of a GMAC, and of a key for AES-128

/// The bytes go in as what is authenticated beside an empty message.
class Gmac {
  public:
    Gmac() {
        constexpr std::array<unsigned char, 12> kStart{}; // one for all: it is no signature
        must(m_context != nullptr && EVP_EncryptInit_ex(m_context.get(), EVP_aes_128_gcm(), nullptr,
                                                        key().data(), kStart.data()) == 1);
    }
    void add(Block block) {
        int done = 0;
        must(EVP_EncryptUpdate(m_context.get(), nullptr, &done, block.data(),
                               static_cast<int>(block.size())) == 1);
    }
    [[nodiscard]] std::string finish() {
        std::array<unsigned char, kTag> tag{};
        int none = 0;
        must(EVP_EncryptFinal_ex(m_context.get(), tag.data(), &none) == 1 &&
             EVP_CIPHER_CTX_ctrl(m_context.get(), EVP_CTRL_GCM_GET_TAG, kTag, tag.data()) == 1);
        return hexadecimal(tag.data(), tag.size());
    }

  private:
    [[nodiscard]] static const std::array<unsigned char, kTag>& key() {
        static const std::array<unsigned char, kTag> drawn = [] {
            std::array<unsigned char, kTag> bytes{};
            must(RAND_bytes(bytes.data(), kTag) == 1);
            return bytes;
        }();
        return drawn;
    }

    std::unique_ptr<EVP_CIPHER_CTX, void (*)(EVP_CIPHER_CTX*)> m_context{EVP_CIPHER_CTX_new(),
                                                                         &EVP_CIPHER_CTX_free};
};

} // namespace

FileDigest digest_file(const std::string& path) {
    Sha256 sha256;
    Gmac checksum;
    FileDigest digest;
    for_each_block(path, [&](Block block) {
        sha256.add(block);
        checksum.add(block);
        digest.size += block.size();
    });
    digest.sha256 = sha256.finish();
    digest.checksum = checksum.finish();
    return digest;
}

std::string checksum_of(const std::string& path) {
    Gmac checksum;
    for_each_block(path, [&](Block block) { checksum.add(block); });
    return checksum.finish();
}

} // namespace loopwalk::gis

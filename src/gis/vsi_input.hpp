// A file that GDAL opens, such as one within an archive, as the source of a stream.
#pragma once

#include <cpl_vsi.h>

#include <cstdint>
#include <memory>
#include <streambuf>
#include <string>
#include <vector>

namespace loopwalk::gis {

/// From the start to the end; a file that cannot be opened is an empty one, and GDAL says why.
class VsiInput final : public std::streambuf {
  public:
    explicit VsiInput(const std::string& path)
        : m_file(VSIFOpenL(path.c_str(), "rb")), m_block(std::size_t{1} << 18U) {}

    /// Bytes that were read so far.
    [[nodiscard]] std::uint64_t count() const noexcept { return m_count; }

  protected:
    int_type underflow() override {
        const std::size_t read =
            m_file == nullptr ? 0 : VSIFReadL(m_block.data(), 1, m_block.size(), m_file.get());
        m_count += read;
        setg(m_block.data(), m_block.data(), m_block.data() + read);
        return read == 0 ? traits_type::eof() : traits_type::to_int_type(m_block.front());
    }

  private:
    struct Close {
        void operator()(VSILFILE* file) const noexcept { static_cast<void>(VSIFCloseL(file)); }
    };
    std::unique_ptr<VSILFILE, Close> m_file;
    std::vector<char> m_block;
    std::uint64_t m_count = 0;
};

} // namespace loopwalk::gis

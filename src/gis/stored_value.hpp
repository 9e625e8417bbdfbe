// A value on its way into a row of a GeoPackage. For this folder only.
#pragma once

#include <ogr_core.h>

#include "row_mixer.hpp"
#include "sqlite_connection.hpp"
#include <bit>
#include <cstdint>
#include <string>
#include <string_view>

namespace loopwalk::gis {

/// Null at first. Its memory is used again when another value is set.
class StoredValue {
  public:
    void set_null() noexcept { m_kind = Kind::null; }
    void set(std::int64_t value) noexcept {
        m_kind = Kind::integer;
        m_number = value;
    }
    void set(double value) noexcept {
        m_kind = Kind::real;
        m_number = std::bit_cast<std::int64_t>(value);
    }
    void set(std::string_view text) { keep(Kind::text, text); }
    void set_block(std::string_view bytes) { keep(Kind::block, bytes); }
    void set_date(const OGRField& date);
    void set_moment(const OGRField& moment);

    /// The value must live until the statement is run.
    void bind_to(SqliteStatement& statement, int parameter) const;
    void mix_into(RowMixer& mixer) const noexcept;

  private:
    enum class Kind : std::uint8_t { null, integer, real, text, block, moment };
    [[nodiscard]] double real() const noexcept { return std::bit_cast<double>(m_number); }
    void keep(Kind kind, std::string_view bytes) {
        m_kind = kind;
        m_bytes.assign(bytes);
    }

    Kind m_kind = Kind::null;
    std::int64_t m_number = 0; ///< of a moment: its milliseconds; of a real number: its bits
    std::string m_bytes;       ///< of a moment: its text
};

} // namespace loopwalk::gis

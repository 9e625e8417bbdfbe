#include "stored_value.hpp"

#include <cpl_string.h>

#include <cstdlib>

namespace loopwalk::gis {
namespace {

/// "Z", "+01:00", or empty where GDAL knows of none.
std::string zone_text(int flag) {
    constexpr int kUtc = 100; // each step a quarter of an hour
    constexpr int kMinutesPerStep = 15;
    if (flag <= 1) {
        return {};
    }
    if (flag == kUtc) {
        return "Z";
    }
    const int minutes = std::abs(flag - kUtc) * kMinutesPerStep;
    return CPLSPrintf("%c%02d:%02d", flag > kUtc ? '+' : '-', minutes / 60, minutes % 60);
}

} // namespace

// NOLINTBEGIN(cppcoreguidelines-pro-type-union-access): so GDAL holds the values of a feature
void StoredValue::set_date(const OGRField& date) {
    const auto& day = date.Date;
    keep(Kind::moment, CPLSPrintf("%04d-%02d-%02d", day.Year, day.Month, day.Day));
    m_number = milliseconds_to(date);
}

void StoredValue::set_moment(const OGRField& moment) {
    const auto& at = moment.Date;
    const std::string zone = zone_text(at.TZFlag);
    keep(Kind::moment,
         CPLSPrintf("%04d-%02d-%02dT%02d:%02d:%06.3f%s", at.Year, at.Month, at.Day, at.Hour,
                    at.Minute, static_cast<double>(at.Second), zone.c_str()));
    m_number = milliseconds_to(moment);
}
// NOLINTEND(cppcoreguidelines-pro-type-union-access)

void StoredValue::bind_to(SqliteStatement& statement, int parameter) const {
    switch (m_kind) {
    case Kind::null:
        statement.bind_null(parameter);
        break;
    case Kind::integer:
        statement.bind(parameter, m_number);
        break;
    case Kind::real:
        statement.bind(parameter, real());
        break;
    case Kind::text:
    case Kind::moment:
        statement.bind(parameter, m_bytes);
        break;
    case Kind::block:
        statement.bind_block(parameter, m_bytes);
        break;
    }
}

void StoredValue::mix_into(RowMixer& mixer) const noexcept {
    switch (m_kind) {
    case Kind::null:
        mixer.null();
        break;
    case Kind::integer:
        mixer.integer(m_number);
        break;
    case Kind::real:
        mixer.real(real());
        break;
    case Kind::text:
        mixer.text(m_bytes);
        break;
    case Kind::moment:
        mixer.moment(m_number);
        break;
    case Kind::block:
        mixer.bytes(m_bytes);
        break;
    }
}

} // namespace loopwalk::gis

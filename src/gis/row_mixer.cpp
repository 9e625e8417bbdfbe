#include "row_mixer.hpp"

namespace loopwalk::gis {
namespace {

/// Days from 1970-01-01 in the Gregorian calendar.
std::int64_t days_to(std::int64_t year, std::int64_t month, std::int64_t day) noexcept {
    year -= month <= 2 ? 1 : 0;
    const std::int64_t era = (year >= 0 ? year : year - 399) / 400;
    const std::int64_t of_era = year - era * 400;
    const std::int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

} // namespace

std::int64_t milliseconds_to(const OGRField& moment) noexcept {
    constexpr int kUtc = 100; // GDAL: 0 unknown, 1 local, 100 UTC, each step a quarter of an hour
    constexpr int kMinutesPerStep = 15;
    const auto& date = moment.Date; // NOLINT(cppcoreguidelines-pro-type-union-access)
    const int offset = date.TZFlag > 1 ? (date.TZFlag - kUtc) * kMinutesPerStep : 0;
    const std::int64_t minutes = days_to(date.Year, date.Month, date.Day) * 1440 + date.Hour * 60 +
                                 date.Minute - std::int64_t{offset};
    return minutes * 60000 + std::llround(static_cast<double>(date.Second) * 1000.0);
}

} // namespace loopwalk::gis

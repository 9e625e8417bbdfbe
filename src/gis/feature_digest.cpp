#include "feature_digest.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <string_view>
#include <vector>

namespace loopwalk::gis {
namespace {

/// Mixes eight bytes at a time; each step is invertible, so a single changed bit changes the
/// result. The constants are those of SplitMix64.
class Mixer {
  public:
    void add(std::uint64_t value) noexcept {
        m_state += value + 0x9E3779B97F4A7C15U;
        m_state = (m_state ^ (m_state >> 30U)) * 0xBF58476D1CE4E5B9U;
        m_state = (m_state ^ (m_state >> 27U)) * 0x94D049BB133111EBU;
        m_state ^= m_state >> 31U;
    }
    void add(std::string_view bytes) noexcept {
        add(bytes.size());
        for (std::size_t at = 0; at < bytes.size(); at += sizeof(std::uint64_t)) {
            std::uint64_t word = 0;
            std::memcpy(&word, bytes.data() + at, std::min(bytes.size() - at, sizeof word));
            add(word);
        }
    }
    [[nodiscard]] std::uint64_t state() const noexcept { return m_state; }

  private:
    std::uint64_t m_state = 0;
};

enum class Tag : std::uint8_t { null = 1, integer, real, text, moment, bytes, geometry };

/// Days from 1970-01-01 in the Gregorian calendar.
std::int64_t days_to(std::int64_t year, std::int64_t month, std::int64_t day) noexcept {
    year -= month <= 2 ? 1 : 0;
    const std::int64_t era = (year >= 0 ? year : year - 399) / 400;
    const std::int64_t of_era = year - era * 400;
    const std::int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

/// Milliseconds from 1970; a moment without a zone counts as UTC, as GeoPackage has it.
std::int64_t moment_of(const OGRFeature& feature, int field) {
    int year = 0;
    int month = 0;
    int day = 0;
    int hour = 0;
    int minute = 0;
    int zone = 0;
    float second = 0;
    feature.GetFieldAsDateTime(field, &year, &month, &day, &hour, &minute, &second, &zone);
    constexpr int kUtc = 100;
    constexpr int kMinutesPerStep = 15;
    const int offset = zone > 1 ? (zone - kUtc) * kMinutesPerStep : 0;
    const std::int64_t minutes =
        days_to(year, month, day) * 1440 + hour * 60 + minute - std::int64_t{offset};
    return minutes * 60000 + std::llround(static_cast<double>(second) * 1000.0);
}

void add(Mixer& mixer, Tag tag) noexcept {
    mixer.add(static_cast<std::uint64_t>(tag));
}

void add_field(Mixer& mixer, const OGRFeature& feature, int field) {
    if (!feature.IsFieldSetAndNotNull(field)) {
        add(mixer, Tag::null);
        return;
    }
    const OGRFieldType type = feature.GetFieldDefnRef(field)->GetType();
    if (type == OFTInteger || type == OFTInteger64) {
        add(mixer, Tag::integer);
        mixer.add(static_cast<std::uint64_t>(feature.GetFieldAsInteger64(field)));
    } else if (type == OFTReal) {
        const double value = feature.GetFieldAsDouble(field);
        if (std::isnan(value)) {
            add(mixer, Tag::null);
        } else {
            add(mixer, Tag::real);
            mixer.add(std::bit_cast<std::uint64_t>(value == 0.0 ? 0.0 : value));
        }
    } else if (type == OFTDate || type == OFTDateTime) {
        add(mixer, Tag::moment);
        mixer.add(static_cast<std::uint64_t>(moment_of(feature, field)));
    } else if (type == OFTBinary) {
        add(mixer, Tag::bytes);
        const OGRField& raw = *feature.GetRawFieldRef(field);
        mixer.add(std::string_view(reinterpret_cast<const char*>(raw.Binary.paData), // NOLINT
                                   static_cast<std::size_t>(raw.Binary.nCount)));
    } else {
        add(mixer, Tag::text);
        mixer.add(std::string_view(feature.GetFieldAsString(field)));
    }
}

void add_geometry(Mixer& mixer, const OGRGeometry* geometry) {
    if (geometry == nullptr) {
        add(mixer, Tag::null);
        return;
    }
    add(mixer, Tag::geometry);
    thread_local std::vector<unsigned char> bytes; // kept for the next feature
    bytes.resize(geometry->WkbSize());
    const bool done = geometry->exportToWkb(wkbNDR, bytes.data(), wkbVariantIso) == OGRERR_NONE;
    mixer.add(done ? std::string_view(reinterpret_cast<const char*>(bytes.data()), // NOLINT
                                      bytes.size())
                   : std::string_view());
}

} // namespace

std::uint64_t digest_of(const OGRFeature& feature) {
    Mixer mixer;
    // After writing an id of 0, the driver tells none.
    mixer.add(static_cast<std::uint64_t>(std::max<GIntBig>(feature.GetFID(), 0)));
    for (int i = 0; i < feature.GetFieldCount(); ++i) {
        add_field(mixer, feature, i);
    }
    if (feature.GetGeomFieldCount() > 0) {
        add_geometry(mixer, feature.GetGeometryRef());
    }
    return mixer.state();
}

} // namespace loopwalk::gis

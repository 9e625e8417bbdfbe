// A row as a number: to tell whether what was written is what stands in the file. For this folder
// only.
#pragma once

#include <ogr_core.h>

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <string_view>

namespace loopwalk::gis {

/// Mixes values in the order in which they come, after what a GeoPackage may change without harm:
/// the width of integers, the sign of zero, NaN (null there), the time zone in which a moment is
/// written. Each step is invertible in what it adds and in what came before, so a single changed
/// bit changes the result. The end is that of SplitMix64, its first constant serves for the steps.
class RowMixer {
  public:
    enum class Shape : std::uint8_t { filled, empty };

    void null() noexcept { add(Tag::null, 0); }
    void integer(std::int64_t value) noexcept {
        add(Tag::integer, static_cast<std::uint64_t>(value));
    }
    void real(double value) noexcept {
        if (std::isnan(value)) {
            null();
        } else {
            add(Tag::real, std::bit_cast<std::uint64_t>(value == 0.0 ? 0.0 : value));
        }
    }
    void text(std::string_view value) noexcept { add(Tag::text, value); }
    void bytes(std::string_view value) noexcept { add(Tag::bytes, value); }
    void moment(std::int64_t milliseconds) noexcept {
        add(Tag::moment, static_cast<std::uint64_t>(milliseconds));
    }
    /// `box` is that of the header of a geometry: none of points and of what is empty.
    void geometry(std::string_view well_known_bytes, std::span<const double> box,
                  Shape shape) noexcept {
        add(shape == Shape::empty ? Tag::empty : Tag::geometry, well_known_bytes);
        for (const double side : box) {
            real(side);
        }
    }
    /// What no writer puts there: equals no other row.
    void foreign(int storage) noexcept { add(Tag::foreign, static_cast<std::uint64_t>(storage)); }
    [[nodiscard]] std::uint64_t state() const noexcept {
        std::uint64_t end = m_state;
        end = (end ^ (end >> 30U)) * kOdd;
        end = (end ^ (end >> 27U)) * 0x94D049BB133111EBU;
        return end ^ (end >> 31U);
    }

  private:
    enum class Tag : std::uint8_t {
        null = 1,
        integer,
        real,
        text,
        moment,
        bytes,
        geometry,
        empty,
        foreign
    };

    static constexpr std::uint64_t kOdd = 0xBF58476D1CE4E5B9U;

    void add(std::uint64_t value) noexcept { m_state = std::rotl((m_state ^ value) * kOdd, 29); }
    void add(Tag tag, std::uint64_t value) noexcept {
        add(value + static_cast<std::uint64_t>(tag) * 0x9E3779B97F4A7C15U);
    }
    void add(Tag tag, std::string_view bytes) noexcept {
        const std::size_t size = bytes.size();
        const char* at = bytes.data();
        add(tag, size);
        for (std::size_t done = 0; done + 8 <= size; done += 8) {
            add(loaded<std::uint64_t>(at + done));
        }
        if (size % 8 != 0) {
            add(size > 8 ? loaded<std::uint64_t>(at + size - 8) : short_word(at, size));
        }
    }
    template <typename Word>
    [[nodiscard]] static Word loaded(const char* from) noexcept {
        Word word = 0;
        std::memcpy(&word, from, sizeof word);
        return word;
    }
    /// Of 1 to 7 bytes, some of them twice: no loop, and each byte is in it.
    [[nodiscard]] static std::uint64_t short_word(const char* at, std::size_t size) noexcept {
        if (size >= 4) {
            return loaded<std::uint32_t>(at) | std::uint64_t{loaded<std::uint32_t>(at + size - 4)}
                                                   << 32U;
        }
        return loaded<std::uint8_t>(at) | std::uint64_t{loaded<std::uint8_t>(at + size / 2)} << 8U |
               std::uint64_t{loaded<std::uint8_t>(at + size - 1)} << 16U;
    }

    std::uint64_t m_state = 0x9E3779B97F4A7C15U;
};

/// Milliseconds from 1970 to a date or a time of a date. One without a zone counts as UTC, as
/// GeoPackage has it.
[[nodiscard]] std::int64_t milliseconds_to(const OGRField& moment) noexcept;

} // namespace loopwalk::gis

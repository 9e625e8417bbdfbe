// Every key of the job file, once: the parser, the range check, the run record and the key list
// in docs/job_file.md all come from this table.
#pragma once

#include "loopwalk/config/config.hpp"

#include <limits>
#include <string_view>
#include <variant>

namespace loopwalk::config {

/// Stands for the name of any layer in Key::table.
inline constexpr std::string_view kAnyLayer = "<layer>";

/// Values that make sense; an open end is excluded.
struct Limits {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool low_open = false;
    [[nodiscard]] bool admit(double value) const noexcept {
        return value <= high && (low_open ? value > low : value >= low);
    }
};

struct NumberSlot {
    double (*get)(const Job&);
    void (*set)(Job&, double);
    std::string_view unit; ///< empty: a plain number
    Limits limits;
};

struct RangeSlot {
    base::Bounds<base::Number> (*get)(const Job&);
    void (*set)(Job&, base::Bounds<base::Number>);
    std::string_view unit;
    Limits limits;
};

enum class TextKind : std::uint8_t {
    plain,
    path,    ///< relative to the folder of the job file
    dataset, ///< a path or a connection string
};

struct TextSlot {
    const std::string& (*get)(const Job&);
    void (*set)(Job&, const std::string&);
    TextKind kind = TextKind::plain;
};

/// One of a few words; get and set speak of positions in `words`.
struct ChoiceSlot {
    std::size_t (*get)(const Job&);
    void (*set)(Job&, std::size_t);
    std::vector<std::string> words;
};

struct LayerTextSlot {
    std::string LayerSource::*member;
    TextKind kind = TextKind::plain;
};

/// Whether a layer writes decimals with a point or a comma.
struct DecimalSlot {};

/// What stands between joined fields; may be blank.
struct JoinedBySlot {};

/// Options of a driver, for a layer or for [data].
struct OpenOptionsSlot {};

/// The box of [data].
struct BoxSlot {};

/// Tables of a layer with an entry for each field.
struct FieldsSlot {};
struct UnitsSlot {};
struct ValuesSlot {};
struct MissingSlot {};

using Slot = std::variant<NumberSlot, RangeSlot, TextSlot, ChoiceSlot, LayerTextSlot, DecimalSlot,
                          JoinedBySlot, OpenOptionsSlot, BoxSlot, FieldsSlot, UnitsSlot, ValuesSlot,
                          MissingSlot>;

struct Key {
    std::string_view table;
    std::string_view name;
    Slot slot;
    std::string_view meaning;
    std::string_view when_empty = {}; ///< what holds where a text is left out
    std::string_view source = {};     ///< of the default of a rule: standard, practice, own choice
};

[[nodiscard]] const std::vector<Key>& keys();

/// "more than 0", "from 0 to 1": for messages and the key list; empty if nothing is excluded.
[[nodiscard]] std::string limits_text(const Limits& limits);
/// "0.85 to 1", or one number.
[[nodiscard]] std::string range_text(base::Bounds<base::Number> range);

} // namespace loopwalk::config

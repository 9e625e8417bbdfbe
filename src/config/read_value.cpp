#include "read_value.hpp"

#include "loopwalk/base/text.hpp"

#include "layer_tables.hpp"
#include <algorithm>
#include <cmath>

namespace loopwalk::config {

namespace {

using base::Bounds;
using base::Number;

std::string type_name(const toml::node& node) {
    switch (node.type()) {
    case toml::node_type::string:
        return "a text";
    case toml::node_type::integer:
    case toml::node_type::floating_point:
        return "a number";
    case toml::node_type::boolean:
        return "true or false";
    case toml::node_type::array:
        return "a list";
    case toml::node_type::table:
        return "a table";
    case toml::node_type::date:
    case toml::node_type::time:
    case toml::node_type::date_time:
        return "a date or time";
    case toml::node_type::none:
        break;
    }
    return "nothing";
}

void check_limits(const toml::node& node, double value, const Limits& limits, const Place& place) {
    if (!limits.admit(value)) {
        place.fail(node, base::number_text(value) + " is out of range: it must be " +
                             limits_text(limits));
    }
}

/// Fills one slot from one node; one overload for each kind of slot.
struct SlotReader {
    const toml::node& node;
    const Place& place;
    Job& job;

    void operator()(const NumberSlot& slot) const {
        const double value = read_number(node, in_unit(slot.unit));
        check_limits(node, value, slot.limits, place);
        slot.set(job, value);
    }
    void operator()(const RangeSlot& slot) const {
        const Bounds<Number> range = read_range(node, in_unit(slot.unit));
        check_limits(node, range.low.value(), slot.limits, place);
        check_limits(node, range.high.value(), slot.limits, place);
        slot.set(job, range);
    }
    void operator()(const TextSlot& slot) const {
        slot.set(job, resolved_path(read_text(node, place), place.folder, slot.kind));
    }
    void operator()(const ChoiceSlot& slot) const {
        const std::string word = read_text(node, place);
        const auto same = [&](const std::string& w) { return base::same_word(w, word); };
        const auto found = std::find_if(slot.words.begin(), slot.words.end(), same);
        if (found == slot.words.end()) {
            place.fail(node,
                       "'" + word + "' is not one of its words." + suggestion(word, slot.words));
        }
        slot.set(job, static_cast<std::size_t>(found - slot.words.begin()));
    }
    void operator()(const LayerTextSlot& slot) const {
        const bool says_none = slot.member == &LayerSource::layer && node.is_string() &&
                               base::trimmed(node.as_string()->get()).empty();
        if (says_none && which_layer() == base::AssetLayer::columns) {
            place.fail(node, "there is nothing to check without columns; name the layer");
        }
        layer().is_absent = layer().is_absent || says_none;
        if (!says_none) {
            layer().*slot.member = resolved_path(read_text(node, place), place.folder, slot.kind);
        }
    }
    void operator()(const DecimalSlot&) const {
        const std::string mark = read_text(node, place);
        if (mark != "." && mark != ",") {
            place.fail(node, "'" + mark + R"(' is not "." or ",")");
        }
        layer().decimal = mark == "." ? base::DecimalMark::point : base::DecimalMark::comma;
    }
    void operator()(const JoinedBySlot&) const {
        if (!node.is_string()) {
            place.fail(node, "a text in quotes is needed here, not " + type_name(node));
        }
        layer().joined_by = node.as_string()->get();
    }
    void operator()(const OpenOptionsSlot&) const {
        auto& options = place.table == "data" ? job.data.open_options : layer().open_options;
        options = read_open_options(node, place);
    }
    void operator()(const BoxSlot&) const { job.data.part.bbox = read_box(node, place); }
    void operator()(const FieldsSlot&) const {
        layer().fields = read_fields(node, place, which_layer());
    }
    void operator()(const UnitsSlot&) const {
        layer().units = read_units(node, place, which_layer());
    }
    void operator()(const ValuesSlot&) const {
        layer().values = read_values(node, place, which_layer());
    }
    void operator()(const MissingSlot&) const {
        layer().missing = read_missing(node, place, which_layer());
    }

    [[nodiscard]] base::AssetLayer which_layer() const {
        const auto which = base::layer_of(place.table);
        LW_ASSERT(which.has_value());
        return *which;
    }
    [[nodiscard]] LayerSource& layer() const {
        return job.data.layers[static_cast<std::size_t>(which_layer())];
    }
    [[nodiscard]] Place in_unit(std::string_view unit) const {
        Place inner = place;
        inner.unit = unit.empty() ? nullptr : base::find_unit(unit);
        return inner;
    }
};

} // namespace

void Place::fail(const toml::source_region& where, const std::string& message) const {
    std::string text = file + ":" + std::to_string(where.begin.line) + ": ";
    if (!table.empty()) {
        text += "[" + table + "] ";
    }
    if (!key.empty()) {
        text += key + ": ";
    }
    throw base::ConfigError(text + message);
}

std::string suggestion(std::string_view word, const std::vector<std::string>& candidates) {
    const std::string nearest = base::nearest_word(word, candidates);
    constexpr std::size_t kMost = 24;
    return " Did you mean '" + nearest + "'? There are: " + base::listed(candidates, kMost) + ".";
}

namespace {

/// "6 ft" where metres are wanted; none if it is not a quantity of that kind.
std::optional<double> read_quantity(std::string_view text, const base::Unit& wanted) {
    const base::WrittenNumber number = base::read_written_number(text, base::DecimalMark::point);
    if (number.state != base::WrittenNumber::State::number || number.unit == nullptr ||
        number.unit->dimension != wanted.dimension) {
        return std::nullopt;
    }
    return base::converted(number.value, *number.unit, wanted);
}

} // namespace

double read_number(const toml::node& node, const Place& place) {
    if (node.is_string() && place.unit != nullptr) {
        if (const auto quantity = read_quantity(node.as_string()->get(), *place.unit)) {
            return *quantity;
        }
    }
    const auto value = node.is_number() ? node.value<double>() : std::nullopt;
    if (!value) {
        const std::string in = place.unit == nullptr
                                   ? std::string()
                                   : " (in " + std::string(place.unit->name) +
                                         ", or a text with another unit of that kind beside it)";
        place.fail(node, "a number" + in + " is needed here, not " + type_name(node));
    }
    if (!std::isfinite(*value)) {
        place.fail(node, "a finite number is needed here");
    }
    return *value;
}

std::string read_text(const toml::node& node, const Place& place) {
    if (!node.is_string()) {
        place.fail(node, "a text in quotes is needed here, not " + type_name(node));
    }
    std::string text = node.as_string()->get();
    if (base::trimmed(text).empty()) {
        place.fail(node, "the text is empty; leave the key out to take the default");
    }
    return text;
}

namespace {

Bounds<Number> range_of_table(const toml::table& table, const Place& place) {
    for (const auto& [name, value] : table) {
        if (name.str() != "low" && name.str() != "high") {
            place.fail(name.source(),
                       "a range has 'low' and 'high', not '" + std::string(name.str()) + "'");
        }
    }
    const toml::node* low = table.get("low");
    const toml::node* high = table.get("high");
    if (low == nullptr || high == nullptr) {
        place.fail(table, "a range needs both 'low' and 'high': { low = 10, high = 60 }");
    }
    return {Number(read_number(*low, place)), Number(read_number(*high, place))};
}

Bounds<Number> range_of_list(const toml::array& list, const Place& place) {
    if (list.empty()) {
        place.fail(list, "the list is empty");
    }
    auto range = Bounds<Number>::exactly(Number(read_number(list[0], place)));
    for (const toml::node& entry : list) {
        const Number value(read_number(entry, place));
        range = {std::min(range.low, value), std::max(range.high, value)};
    }
    return range;
}

} // namespace

Bounds<Number> read_range(const toml::node& node, const Place& place) {
    if (const auto* list = node.as_array()) {
        return range_of_list(*list, place);
    }
    const auto* table = node.as_table();
    const auto range = table != nullptr ? range_of_table(*table, place)
                                        : Bounds<Number>::exactly(Number(read_number(node, place)));
    if (range.low > range.high) {
        place.fail(node, "'low' is larger than 'high'");
    }
    return range;
}

std::vector<double> read_box(const toml::node& node, const Place& place) {
    const auto* list = node.as_array();
    if (list == nullptr) {
        place.fail(node, "a list of four numbers is needed here: [xmin, ymin, xmax, ymax]");
    }
    std::vector<double> box;
    for (const toml::node& entry : *list) {
        box.push_back(read_number(entry, place));
    }
    return box;
}

void read_value(const toml::node& node, const Key& key, const Place& place, Job& job) {
    std::visit(SlotReader{node, place, job}, key.slot);
}

} // namespace loopwalk::config

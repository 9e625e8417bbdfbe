// The key table as text: the settings of a job, and the list of keys for docs/job_file.md.
#include "loopwalk/base/text.hpp"

#include "key_table.hpp"

namespace loopwalk::config {

namespace {

using Settings = std::vector<std::pair<std::string, std::string>>;

std::string words_text(const MissingValue& value) {
    if (value.range) {
        return range_text(*value.range);
    }
    std::string text;
    for (const std::string& word : value.words) {
        text += (text.empty() ? "" : ", ") + word;
    }
    return text;
}

/// Where a setting has a text of its own; layers and paths are told apart by the caller.
struct SettingText {
    const Job& job;
    std::string operator()(const NumberSlot& slot) const {
        return base::number_text(slot.get(job));
    }
    std::string operator()(const RangeSlot& slot) const { return range_text(slot.get(job)); }
    std::string operator()(const TextSlot& slot) const {
        return slot.kind == TextKind::plain ? slot.get(job) : std::string();
    }
    std::string operator()(const ChoiceSlot& slot) const { return slot.words[slot.get(job)]; }
    std::string operator()(const BoxSlot&) const {
        std::vector<std::string> numbers;
        for (const double number : job.data.part.bbox) {
            numbers.push_back(base::number_text(number));
        }
        return base::joined(numbers, ", ");
    }
    std::string operator()(const OpenOptionsSlot&) const {
        return base::without_passwords(base::joined(job.data.open_options, " "));
    }
    template <class OfLayer>
    std::string operator()(const OfLayer&) const {
        return {};
    }
};

bool is_path(const Slot& slot) {
    const auto* text = std::get_if<TextSlot>(&slot);
    const auto* of_layer = std::get_if<LayerTextSlot>(&slot);
    return (text != nullptr && text->kind != TextKind::plain) ||
           (of_layer != nullptr && of_layer->kind != TextKind::plain);
}

std::string quoted(const std::string& text) {
    return '"' + text + '"';
}

/// What a job says about one layer under one key, as (name of the field, text); the name is empty
/// for a key without fields.
struct LayerSettingText {
    const LayerSource& source;

    Settings operator()(const LayerTextSlot& slot) const {
        const std::string& text = source.*(slot.member);
        return text.empty() ? Settings{} : Settings{{"", text}};
    }
    Settings operator()(const DecimalSlot&) const {
        if (source.decimal == base::DecimalMark::unstated) {
            return {};
        }
        return {{"", source.decimal == base::DecimalMark::comma ? "," : "."}};
    }
    Settings operator()(const JoinedBySlot&) const {
        return source.joined_by == " " ? Settings{} : Settings{{"", quoted(source.joined_by)}};
    }
    Settings operator()(const OpenOptionsSlot&) const {
        if (source.open_options.empty()) {
            return {};
        }
        return {{"", base::without_passwords(base::joined(source.open_options, " "))}};
    }
    Settings operator()(const FieldsSlot&) const {
        Settings all;
        for (const FieldNames& names : source.fields) {
            all.emplace_back(names.field, names.names.empty()
                                              ? "(none)"
                                              : base::listed(names.names, names.names.size()));
        }
        return all;
    }
    Settings operator()(const UnitsSlot&) const {
        Settings all;
        for (const FieldUnit& unit : source.units) {
            all.emplace_back(unit.field, unit.unit->name);
        }
        return all;
    }
    Settings operator()(const ValuesSlot&) const {
        Settings all;
        for (const FieldValues& values : source.values) {
            std::string text;
            for (const Translation& t : values.translations) {
                text += (text.empty() ? "" : ", ") + quoted(t.pattern) + " = " + quoted(t.meaning);
            }
            all.emplace_back(values.field, text);
        }
        return all;
    }
    Settings operator()(const MissingSlot&) const {
        Settings all;
        for (const MissingValue& value : source.missing) {
            all.emplace_back(value.field, words_text(value));
        }
        return all;
    }
    template <class OfJob>
    Settings operator()(const OfJob&) const {
        return {};
    }
};

/// Only what the job says: a layer's keys have no default value of their own.
void add_layer_settings(const Job& job, const Key& key, Settings& settings) {
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        const auto layer = static_cast<base::AssetLayer>(i);
        std::size_t number = 0;
        for (const LayerSource* source : job.data.sources(layer)) {
            std::string name(base::layer_name(layer));
            if (++number > 1) {
                name += "[" + std::to_string(number) + "]";
            }
            name.append(".").append(key.name);
            for (auto& [field, text] : std::visit(LayerSettingText{*source}, key.slot)) {
                settings.emplace_back(field.empty() ? name : base::joined({name, field}, "."),
                                      std::move(text));
            }
        }
    }
}

std::string with_unit(std::string text, std::string_view unit) {
    return unit.empty() ? text : std::move(text) + " (" + std::string(unit) + ")";
}

struct TypeText {
    std::string operator()(const NumberSlot& slot) const {
        return with_unit("number", slot.unit) + limits(slot.limits);
    }
    std::string operator()(const RangeSlot& slot) const {
        return with_unit("number or range", slot.unit) + limits(slot.limits);
    }
    std::string operator()(const TextSlot& slot) const { return text(slot.kind); }
    std::string operator()(const ChoiceSlot& slot) const {
        std::string all;
        for (const std::string& word : slot.words) {
            all += (all.empty() ? "`\"" : " or `\"") + word + "\"`";
        }
        return all;
    }
    std::string operator()(const LayerTextSlot& slot) const {
        const bool is_list =
            slot.member == &LayerSource::dataset || slot.member == &LayerSource::layer;
        return text(slot.kind) + (is_list ? " or list" : "");
    }
    std::string operator()(const DecimalSlot&) const { return R"(`"."` or `","`)"; }
    std::string operator()(const JoinedBySlot&) const { return "text"; }
    std::string operator()(const BoxSlot&) const { return "four numbers"; }
    template <class TableSlot>
    std::string operator()(const TableSlot&) const {
        return "table";
    }

    static std::string limits(const Limits& l) {
        const std::string text = limits_text(l);
        return text.empty() ? text : ", " + text;
    }
    static std::string text(TextKind kind) {
        switch (kind) {
        case TextKind::plain:
            break;
        case TextKind::path:
            return "path";
        case TextKind::dataset:
            return "path or connection";
        }
        return "text";
    }
};

std::string default_text(const Key& key) {
    const Job defaults;
    std::string text = std::visit(SettingText{defaults}, key.slot);
    return text.empty() ? std::string(key.when_empty) : text;
}

/// With where its default comes from.
std::string meaning_text(const Key& key) {
    std::string text(key.meaning);
    if (!key.source.empty()) {
        text += " Default: " + std::string(key.source) + ".";
    }
    return text;
}

} // namespace

Settings settings_text(const Job& job) {
    Settings settings;
    for (const Key& key : keys()) {
        if (is_path(key.slot)) {
            continue;
        }
        if (key.table == kAnyLayer) {
            add_layer_settings(job, key, settings);
        } else if (std::string text = std::visit(SettingText{job}, key.slot);
                   !text.empty() ||
                   (key.table != "data" &&
                    key.table != "output")) { // like a layer's: only what the job says
            settings.emplace_back(std::string(key.table) + "." + std::string(key.name),
                                  std::move(text));
        }
    }
    return settings;
}

std::vector<KeyInfo> key_list() {
    std::vector<KeyInfo> list;
    for (const Key& key : keys()) {
        list.push_back({std::string(key.table), std::string(key.name),
                        std::visit(TypeText{}, key.slot), default_text(key), meaning_text(key)});
    }
    return list;
}

} // namespace loopwalk::config

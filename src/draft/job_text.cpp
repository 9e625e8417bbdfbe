// The draft as a job file.
#include "loopwalk/base/text.hpp"
#include "loopwalk/draft/draft.hpp"

#include "dataset_text.hpp"
#include "evidence.hpp"
#include "quoted_text.hpp"
#include "role_evidence.hpp"
#include <algorithm>
#include <set>

namespace loopwalk::draft {

namespace {

using base::AssetLayer;

constexpr std::size_t kRemarkColumn = 34; ///< where remarks begin if there is room
constexpr std::size_t kMostListed = 40;
constexpr std::size_t kLongestWord = 120; ///< bytes of a recorded word that is listed
constexpr std::string_view kUnsureMark = "# ";

constexpr std::string_view kHeader =
    "# A guess from the records alone. Let someone competent who knows the records go through "
    "every\n"
    "# line: a wrong field, unit or word gives wrong figures, and nobody is told.\n"
    "#   sure    names and values both say so\n"
    "#   likely  stated all the same; look at it first\n"
    "#   unsure  left as a comment: take the \"#\" away where it is right. A field of which the "
    "words\n"
    "#           alone are not known is stated all the same: say below what each stands for\n"
    "# What stands on the right side is in docs/job_file.md, what the fields mean in "
    "docs/data_model.md.\n";

std::string count_text(std::uint64_t count, std::string_view one, std::string_view many) {
    return std::to_string(count) + " " + std::string(count == 1 ? one : many);
}

/// Characters of a UTF-8 text.
std::size_t width(std::string_view text) {
    constexpr unsigned kMask = 0xc0;
    constexpr unsigned kContinuation = 0x80;
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & kMask) != kContinuation;
    }));
}

/// One table of the job file for each layer that was found.
class LayerWriter {
  public:
    /// `several`: one of several sources of its role.
    enum class Several : bool { no, yes };
    LayerWriter(const LayerGuess& guess, const LayerProfile& layer, Several several)
        : m_several(several), m_guess(guess), m_layer(layer), m_name(base::layer_name(guess.role)),
          m_targets(targets_of(guess.role)) {}

    /// `dataset`: empty where [data] names it.
    [[nodiscard]] std::string text(const std::string& dataset) {
        heading();
        m_prefix = m_guess.confidence == Confidence::unsure || !is_utf8(m_layer.name)
                       ? kUnsureMark
                       : std::string_view();
        line(m_several == Several::yes ? "[[" + m_name + "]]" : "[" + m_name + "]");
        if (!dataset.empty()) {
            m_text += dataset_remarks(m_layer.dataset);
            entry("dataset", toml_string(remark(dataset)), {},
                  is_utf8(dataset) ? Confidence::sure : Confidence::unsure);
        }
        entry("layer",
              is_utf8(m_layer.name) ? toml_string(m_layer.name) : toml_string(remark(m_layer.name)),
              {}, Confidence::sure);
        places();
        system();
        if (m_guess.decimal == base::DecimalMark::comma) {
            entry("decimal", toml_string(","), "its texts write decimals so", Confidence::sure);
        }
        fields();
        units();
        for (const FieldGuess& field : m_guess.fields) {
            words(field);
        }
        return std::move(m_text);
    }

  private:
    void line(const std::string& text) {
        m_text += std::string(text.empty() ? base::trimmed(m_prefix) : m_prefix) + text + "\n";
    }
    void remark_line(const std::string& text) { m_text += "# " + remark(text) + "\n"; }

    void entry(const std::string& key, const std::string& value, const std::string& why,
               Confidence confidence) {
        std::string text = confidence == Confidence::unsure && m_prefix.empty()
                               ? std::string(kUnsureMark)
                               : std::string(m_prefix);
        text += key + " = " + value;
        if (!why.empty()) {
            const std::size_t used = std::min(kRemarkColumn, width(text));
            text.append(std::max<std::size_t>(2, kRemarkColumn - used), ' ');
            text += "# " + remark(why);
        }
        m_text += text + "\n";
    }

    /// The fields of the coordinates of a table.
    void places() {
        if (!m_layer.place_fields || is_table(m_guess.role)) {
            return;
        }
        const PlaceFields& fields = *m_layer.place_fields;
        const char* const why = fields.is_degrees ? "longitude" : "easting";
        entry("x", toml_string(remark(m_layer.fields[fields.x].name)), why, Confidence::likely);
        entry("y", toml_string(remark(m_layer.fields[fields.y].name)),
              fields.is_degrees ? "latitude" : "northing; exchange the two if it is the other way",
              Confidence::likely);
        if (fields.is_degrees) {
            entry("crs", toml_string("EPSG:4326"), "longitudes and latitudes", Confidence::likely);
        }
    }

    /// What to say of the coordinate system.
    void system() {
        if (m_layer.looks_like_degrees()) {
            m_text += "# LOOK: the coordinates look like degrees, but the layer states " +
                      (m_layer.system.empty() ? std::string("no coordinate system")
                                              : "the system " + remark(m_layer.system)) +
                      ".\n# All lengths would be wrong. Name the right system, most likely:\n"
                      "# crs = \"EPSG:4326\"\n";
        } else if (m_layer.system.empty() && m_layer.shape() != Shape::none) {
            remark_line("crs = \"...\" : the layer states no coordinate system; name it here");
            if (m_layer.place_fields) {
                remark_line("such as \"EPSG:27700\" for the British National Grid; without it, "
                            "that of the cables is taken");
            }
        }
    }

    void heading() {
        remark_line(std::string(m_name) + ": layer \"" + m_layer.name + "\", " +
                    count_text(m_layer.features, "feature", "features"));
        remark_line(std::string(confidence_name(m_guess.confidence)) + ": " + m_guess.reason);
        for (const std::string& remark : m_guess.remarks) {
            remark_line(remark);
        }
        for (const Rejected& other : m_guess.rejected) {
            remark_line("not taken: layer \"" + other.name + "\" (" + other.reason +
                        "); if both belong, write a table [[" + m_name + "]] for each");
        }
    }

    [[nodiscard]] static bool is_writable(const FieldGuess& field) {
        return is_utf8(field.name) &&
               std::all_of(field.more_names.begin(), field.more_names.end(), is_utf8);
    }

    [[nodiscard]] static bool is_stated(const FieldGuess& field) {
        return field.is_stated() && is_writable(field);
    }

    /// One name, or a list of names.
    [[nodiscard]] static std::string names_text(const FieldGuess& field) {
        std::string text = toml_string(remark(field.name));
        for (const std::string& name : field.more_names) {
            text += ", " + toml_string(remark(name));
        }
        return field.more_names.empty() ? text : "[" + text + "]";
    }

    void fields() {
        line("");
        line("[" + m_name + ".fields]");
        for (const FieldGuess& field : m_guess.fields) {
            entry(field.field, names_text(field),
                  std::string(confidence_name(field.confidence)) + ": " + field.reason,
                  is_stated(field) ? Confidence::likely : Confidence::unsure);
            for (const Rejected& other : field.rejected) {
                remark_line("  not taken: " + other.name + " (" + other.reason + ")");
            }
        }
        for (const std::string& name : m_guess.not_there) {
            entry(name, "\"\"", "the field of that name seems to hold something else",
                  Confidence::sure);
        }
        if (!m_guess.unused.empty()) {
            remark_line("without a part: " + base::listed(m_guess.unused, kMostListed));
        }
    }

    void units() {
        const bool any = std::any_of(m_guess.fields.begin(), m_guess.fields.end(),
                                     [](const FieldGuess& f) { return f.unit != nullptr; });
        if (!any) {
            return;
        }
        line("");
        line("[" + m_name + ".units]");
        for (const FieldGuess& field : m_guess.fields) {
            if (field.unit != nullptr) {
                entry(field.field, toml_string(field.unit->name),
                      std::string(confidence_name(field.confidence)),
                      is_stated(field) ? Confidence::likely : Confidence::unsure);
            }
        }
    }

    [[nodiscard]] bool is_number(const std::string& field) const {
        return std::any_of(m_targets.begin(), m_targets.end(), [&](const Target& target) {
            return target.field == field && target.is_number;
        });
    }

    void words(const FieldGuess& field) {
        if (field.words.words.empty()) {
            return;
        }
        line("");
        const bool is_commented = !is_stated(field) && m_prefix.empty();
        const std::string_view outer = m_prefix;
        if (is_commented) {
            m_prefix = kUnsureMark;
        }
        line("[" + m_name + ".values." + field.field + "]");
        std::size_t left_out = field.words.not_listed;
        std::set<std::string> seen;
        for (const WordGuess& word : field.words.words) {
            if (word.recorded.size() > kLongestWord || !is_utf8(word.recorded)) {
                ++left_out;
            } else if (seen.insert(base::folded(word.recorded)).second) {
                this->word(word, is_number(field.field));
            }
        }
        if (left_out > 0) {
            remark_line(std::to_string(left_out) + " more are not listed");
        }
        m_prefix = outer;
    }

    void word(const WordGuess& word, bool number) {
        std::string why = std::string(confidence_name(word.confidence)) + ", ";
        why += count_text(word.count, "time", "times");
        if (!word.reason.empty()) {
            why += ": " + word.reason;
        }
        const bool is_plain = number && !word.meaning.empty();
        // Nothing is proposed: dots, which the program refuses. An empty text would say that
        // nothing is recorded, and a status that is not recorded is in service.
        const bool is_open = word.meaning.empty() && word.confidence == Confidence::unsure;
        entry(toml_string(pattern_of(word.recorded)),
              is_plain  ? word.meaning
              : is_open ? toml_string("...")
                        : toml_string(word.meaning),
              why, word.confidence);
    }

    Several m_several;
    const LayerGuess& m_guess;
    const LayerProfile& m_layer;
    std::string m_name;
    std::vector<Target> m_targets;
    std::string_view m_prefix;
    std::string m_text;
};

std::vector<std::string> dataset_names(const Draft& draft) {
    std::vector<std::string> names;
    for (const LayerProfile& profile : draft.profiles) {
        if (std::find(names.begin(), names.end(), profile.dataset) == names.end()) {
            names.push_back(profile.dataset);
        }
    }
    return names;
}

bool is_stated(const Draft& draft, AssetLayer role) {
    const LayerGuess* guess = draft.find(role);
    return guess != nullptr && guess->confidence != Confidence::unsure;
}

bool is_needed(AssetLayer role) {
    return role == AssetLayer::columns || role == AssetLayer::cables;
}

/// Says that there is none, where the program would look for one by its native name.
std::string absent_text(const Draft& draft, AssetLayer role) {
    const std::string name(base::layer_name(role));
    const bool is_found_anyway =
        std::any_of(draft.profiles.begin(), draft.profiles.end(),
                    [&](const LayerProfile& p) { return base::same_word(p.name, name); });
    if (is_stated(draft, role) || (!is_needed(role) && !is_found_anyway)) {
        return {};
    }
    std::string text = "\n# " + name + ": ";
    if (role == AssetLayer::columns) {
        return text + "no layer was found that plainly holds them; name it here\n# [columns]\n"
                      "# layer = \"...\"\n# fields = { column_id = \"...\" }\n";
    }
    if (draft.find(role) != nullptr) { // that there is none is for the reader to say
        return text +
               "what is below may be them: take the \"#\" away if it is. If the records "
               "have none, write\n# [" +
               name + "]\n# layer = \"\"\n";
    }
    text += "no layer was found that holds them\n";
    if (role == AssetLayer::cables) {
        text +=
            "# Without cables nothing can be traced: the columns are checked as records only.\n";
    }
    return text + "[" + name + "]\nlayer = \"\"\n";
}

} // namespace

std::string job_text(const Draft& draft, const std::string& folder) {
    const std::vector<std::string> datasets = dataset_names(draft);
    std::string text = "# Drafted by loopwalk " + std::string(base::program_version()) + ".\n";
    text += kHeader;
    if (datasets.size() == 1) {
        text += "\n[data]\n" + dataset_remarks(datasets.front());
        text += is_utf8(datasets.front()) ? "" : "# ";
        text += "dataset = " + toml_string(remark(dataset_text(datasets.front(), folder))) + "\n";
    }
    for (const std::string& warning : warnings_of(draft)) {
        text += "\n# LOOK HERE FIRST: " + remark(warning) + "\n";
    }
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        const auto role = static_cast<AssetLayer>(i);
        text += absent_text(draft, role);
        const std::vector<const LayerGuess*> guesses = draft.all_of(role);
        const auto several =
            guesses.size() > 1 ? LayerWriter::Several::yes : LayerWriter::Several::no;
        for (const LayerGuess* guess : guesses) {
            const LayerProfile& layer = draft.profiles[guess->profile];
            text += "\n" + LayerWriter(*guess, layer, several)
                               .text(datasets.size() == 1 ? std::string()
                                                          : dataset_text(layer.dataset, folder));
        }
    }
    if (!draft.unused.empty()) {
        text += "\n";
    }
    for (const Rejected& layer : draft.unused) {
        text += "# without a part: layer \"" + remark(layer.name) + "\" (" + remark(layer.reason) +
                ")\n";
    }
    return text;
}

} // namespace loopwalk::draft

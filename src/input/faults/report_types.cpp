// Types of cables and fuses that the catalogue does not have, and those that are not recorded.
#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include "report.hpp"
#include <map>

namespace loopwalk::input {

namespace {

using base::AssetLayer;
using base::Rule;
using model::FuseRecord;

struct Use {
    std::size_t first = 0; ///< canonical position
    std::int64_t count = 0;
    void add(std::size_t position) {
        if (count++ == 0) {
            first = position;
        }
    }
};

std::string features(std::int64_t count) {
    return std::to_string(count) + (count == 1 ? " feature" : " features");
}

/// Collects the words of one field of one layer.
class TypeUses {
  public:
    TypeUses(Context& context, AssetLayer layer, Rule rule, std::string field)
        : m_context(context), m_layer(layer), m_rule(rule), m_field(std::move(field)) {}

    void add_unknown(std::size_t position, base::TextId word) {
        const std::string_view text = m_context.result.layers.text.view(word);
        Use& use = m_words[base::folded(text)];
        if (use.count == 0) {
            m_spelling[base::folded(text)] = text;
        }
        use.add(position);
    }
    void add_missing(std::size_t position) { m_missing.add(position); }
    /// The rating is recorded, the type is not.
    void add_rating_alone(std::size_t position) {
        m_missing.add(position);
        ++m_rated;
    }

    void write() {
        for (const auto& [word, use] : m_words) {
            write(use,
                  "The " + m_field + " " + quoted(m_spelling[word]) + " of layer " + layer() +
                      " (" + features(use.count) + ") is not in the catalogue.",
                  cure(m_spelling[word]));
        }
        if (m_missing.count > 0) {
            write(m_missing,
                  "No " + m_field + " is recorded for " + features(m_missing.count) + " of layer " +
                      layer() + rated_text() + ".",
                  "Look it up on site or in the records of the works");
        }
    }

  private:
    /// What the words seem to mean, for the user to decide.
    [[nodiscard]] std::string cure(const std::string& word) const {
        const catalogue::TypeGuess guess =
            m_rule == Rule::type_unknown ? catalogue::guess_cable(word, m_context.catalogue)
                                         : catalogue::guess_fuse(word, m_context.catalogue).type;
        if (guess.names.empty()) {
            return "Check the word (" + guess.reason + "), or add the type to the catalogue";
        }
        constexpr std::size_t kMost = 4;
        return "Say in the job file under `values` what it stands for, if it is one of these: " +
               base::listed(guess.names, kMost) + " (" + guess.reason + ")";
    }
    /// A rating tells much: only the types that have it can be there.
    [[nodiscard]] std::string rated_text() const {
        if (m_rated == 0) {
            return {};
        }
        return m_rated == m_missing.count
                   ? ", but a rating is: any type of that rating may be there"
                   : "; for " + features(m_rated) +
                         " of them a rating is: any type of that rating may be there";
    }
    [[nodiscard]] std::string layer() const { return std::string(base::layer_name(m_layer)); }

    void write(const Use& use, std::string message, std::string fix) {
        base::Finding finding = finding_at(assets_of(m_context, m_layer), use.first, m_rule,
                                           std::move(message), std::move(fix));
        finding.count = use.count;
        m_context.findings.add(std::move(finding));
    }

    Context& m_context;
    AssetLayer m_layer;
    Rule m_rule;
    std::string m_field;
    std::map<std::string, Use> m_words;            ///< by folded word
    std::map<std::string, std::string> m_spelling; ///< as at the first asset
    Use m_missing;
    std::int64_t m_rated = 0; ///< of these
};

void report_cable_types(Context& context, AssetLayer layer) {
    const model::Layers& layers = context.result.layers;
    TypeUses uses(context, layer, Rule::type_unknown, "cable type");
    const auto add = [&](std::size_t i, const model::CableTypeRecord& type) {
        if (type.type.is_valid()) {
            return;
        }
        if (type.text.is_valid()) {
            uses.add_unknown(i, type.text);
        } else if (layer == AssetLayer::cables) { // no figure hangs on the type of a main
            uses.add_missing(i);
        }
    };
    if (layer == AssetLayer::cables) {
        for (std::size_t i = 0; i < layers.cables.size(); ++i) {
            add(i, layers.cables[i].type);
        }
    }
    if (layer == AssetLayer::mains) {
        for (std::size_t i = 0; i < layers.mains.size(); ++i) {
            add(i, layers.mains[i].type);
        }
    }
    uses.write();
}

/// A tail without a type is common and has a range of its own: only unknown words are told.
void report_tail_types(Context& context) {
    const auto& columns = context.result.layers.columns;
    TypeUses uses(context, AssetLayer::columns, Rule::type_unknown, "tail type");
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (columns[i].tail_type.text.is_valid()) {
            uses.add_unknown(i, columns[i].tail_type.text);
        }
    }
    uses.write();
}

/// Where a fuse must be: at a way, and in a column with a load.
bool needs_fuse(const model::WayRow&) {
    return true;
}
bool needs_fuse(const model::Column& column) {
    return column.load.has_value() && (*column.load).value() > 0.0;
}
template <class T>
bool needs_fuse(const T&) {
    return false;
}

template <class T>
void report_fuse_types(Context& context, AssetLayer layer, const std::vector<T>& rows) {
    TypeUses uses(context, layer, Rule::fuse_unknown, "fuse type");
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i].fuse.word == FuseRecord::Word::not_found) {
            uses.add_unknown(i, rows[i].fuse.text);
        }
        if (rows[i].fuse.word != FuseRecord::Word::missing || !needs_fuse(rows[i])) {
            continue;
        }
        if (rows[i].fuse.rating.has_value()) {
            uses.add_rating_alone(i);
        } else {
            uses.add_missing(i);
        }
    }
    uses.write();
}

} // namespace

void report_unknown_types(Context& context, AssetLayer layer) {
    const model::Layers& layers = context.result.layers;
    switch (layer) {
    case AssetLayer::columns:
        report_tail_types(context);
        return report_fuse_types(context, layer, layers.columns);
    case AssetLayer::cables:
    case AssetLayer::mains:
        return report_cable_types(context, layer);
    case AssetLayer::supplies:
        return report_fuse_types(context, layer, layers.supplies);
    case AssetLayer::ways:
        return report_fuse_types(context, layer, layers.ways);
    case AssetLayer::joints:
        return report_fuse_types(context, layer, layers.joints);
    case AssetLayer::loads:
        return report_fuse_types(context, layer, layers.loads);
    case AssetLayer::terminations:
    case AssetLayer::readings:
        return;
    }
}

} // namespace loopwalk::input

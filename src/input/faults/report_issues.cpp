// What single features hold that cannot be used: bad-value, bad-geometry, zero-length.
#include "loopwalk/base/text.hpp"

#include "read/field_tables.hpp"
#include "report.hpp"
#include <algorithm>
#include <map>

namespace loopwalk::input {

namespace {

using base::Rule;

constexpr const char* kCheckValue = "Check the recorded value";
constexpr const char* kCheckGeometry = "Check how the feature is drawn";
constexpr const char* kCheckSystem =
    "Check the coordinates, and the coordinate system of the layer; the job file can name another "
    "(`crs`)";
constexpr const char* kCheckId = "Give each asset an id of its own";

/// An issue at its canonical place.
struct Placed {
    std::uint32_t position = 0;
    Issue issue;
};

std::vector<Placed> placed(const LayerRecord& record) {
    std::vector<Placed> issues;
    issues.reserve(record.issues.size() + record.order.nameless.size());
    for (const Issue& issue : record.issues) {
        issues.push_back({record.order.positions[issue.feature], issue});
    }
    for (const std::uint32_t feature : record.order.nameless) {
        issues.push_back(
            {record.order.positions[feature], {feature, 0, IssueKind::not_recorded, {}, {}, 0.0}});
    }
    std::sort(issues.begin(), issues.end(), [](const Placed& a, const Placed& b) {
        return std::tuple(a.position, a.issue.field, a.issue.kind) <
               std::tuple(b.position, b.issue.field, b.issue.kind);
    });
    return issues;
}

Rule rule_of(IssueKind kind) {
    switch (kind) {
    case IssueKind::not_recorded:
    case IssueKind::no_number:
    case IssueKind::ambiguous_number:
    case IssueKind::other_unit:
    case IssueKind::with_unit:
    case IssueKind::decimal_comma:
    case IssueKind::grouped:
    case IssueKind::out_of_range:
    case IssueKind::unknown_reference:
    case IssueKind::unclear_reference:
    case IssueKind::unknown_word:
        return Rule::bad_value;
    case IssueKind::no_geometry:
    case IssueKind::empty_geometry:
    case IssueKind::not_finite:
    case IssueKind::no_coordinate:
    case IssueKind::wrong_kind:
    case IssueKind::several_points:
    case IssueKind::cannot_transform:
        return Rule::bad_geometry;
    case IssueKind::zero_length:
        return Rule::zero_length;
    case IssueKind::at_origin:
        break;
    }
    return Rule::outlier_place;
}

/// Writes the issues of one layer.
class IssueWriter {
  public:
    IssueWriter(Context& context, const Assets& assets)
        : m_context(context), m_assets(assets), m_allowed(allowed_values(assets.layer)) {}

    void write_each(const std::vector<Placed>& issues) {
        for (std::size_t i = 0; i < issues.size();) {
            const std::uint32_t position = issues[i].position;
            std::map<Rule, std::vector<Issue>> at_asset;
            for (; i < issues.size() && issues[i].position == position; ++i) {
                if (is_single(issues[i].issue.kind)) {
                    at_asset[rule_of(issues[i].issue.kind)].push_back(issues[i].issue);
                }
            }
            for (const auto& [rule, found] : at_asset) {
                write_one(rule, position, found);
            }
        }
    }

    /// One finding for each distinct word of a field, at its first asset.
    void write_words(const std::vector<Placed>& issues) {
        std::map<std::pair<std::uint8_t, std::string>, Use> words;
        for (const Placed& entry : issues) {
            if (entry.issue.kind != IssueKind::unknown_word) {
                continue;
            }
            words[{entry.issue.field, base::folded(text(entry.issue))}].add(entry);
        }
        for (const auto& [word, use] : words) {
            write_word(use.first, use.count);
        }
    }

    /// One finding for each way of writing numbers of a field, at its first asset: the numbers are
    /// used.
    void write_notes(const std::vector<Placed>& issues) {
        std::map<std::pair<std::uint8_t, IssueKind>, Use> notes;
        for (const Placed& entry : issues) {
            if (is_note(entry.issue.kind)) {
                notes[{entry.issue.field, entry.issue.kind}].add(entry);
            }
        }
        for (const auto& [key, use] : notes) {
            write_note(use);
        }
    }

  private:
    struct Use {
        Placed first;
        std::int64_t count = 0;
        void add(const Placed& entry) {
            if (count++ == 0) {
                first = entry;
            }
        }
    };
    static bool is_note(IssueKind kind) {
        return kind == IssueKind::with_unit || kind == IssueKind::decimal_comma ||
               kind == IssueKind::grouped;
    }
    /// Words are counted, not told one by one; 0,0 is told with the other far places.
    static bool is_single(IssueKind kind) {
        return kind != IssueKind::unknown_word && kind != IssueKind::at_origin && !is_note(kind);
    }
    [[nodiscard]] std::string_view text(const Issue& issue) const {
        return m_context.result.layers.text.view(issue.text);
    }
    [[nodiscard]] std::size_t part_of(const Issue& issue) const {
        return m_context.record(m_assets.layer).part_of(issue.feature);
    }
    [[nodiscard]] std::string field(const Issue& issue) const {
        return field_label(contract_fields(m_assets.layer)[issue.field].name,
                           *m_context.job.data.sources(m_assets.layer)[part_of(issue)]);
    }

    [[nodiscard]] std::string fault(const Issue& issue) const {
        switch (issue.kind) {
        case IssueKind::not_recorded:
            return field(issue) + " is not recorded";
        case IssueKind::no_number:
            return field(issue) + " is " + quoted(text(issue)) + ", which is no number";
        case IssueKind::ambiguous_number:
            return field(issue) + " is " + quoted(text(issue)) +
                   ", which may be two numbers (say which in the job file: decimal = \",\" or "
                   "\".\")";
        case IssueKind::other_unit:
            return field(issue) + " is " + quoted(text(issue)) +
                   ", whose unit does not fit the field";
        case IssueKind::out_of_range:
            return field(issue) + " is " + base::number_text(issue.number) + ", not " +
                   std::string(rule_text(m_allowed[issue.field].rule));
        case IssueKind::unknown_reference:
            return field(issue) + " is " + quoted(text(issue)) + ", which no asset is called" +
                   (issue.other.is_valid()
                        ? " (there is " + quoted(m_context.result.layers.text.view(issue.other)) +
                              ")"
                        : "");
        case IssueKind::unclear_reference:
            return field(issue) + " is " + quoted(text(issue)) +
                   ", which assets of several layers are called";
        case IssueKind::no_geometry:
            return "there is no geometry";
        case IssueKind::empty_geometry:
            return "the geometry is empty";
        case IssueKind::not_finite:
            return "a coordinate is no finite number below 1e12; the result has the record without "
                   "it";
        case IssueKind::no_coordinate:
            return issue.text.is_valid()
                       ? "a coordinate is " + quoted(text(issue)) +
                             ", which is no number of one meaning (say how decimals are written in "
                             "the job file: decimal = \",\" or \".\")"
                       : std::string("a coordinate is not recorded");
        case IssueKind::wrong_kind:
            return m_assets.layer == base::AssetLayer::cables ||
                           m_assets.layer == base::AssetLayer::mains
                       ? "the geometry is not a line"
                       : "the geometry is not a point";
        case IssueKind::several_points:
            return "there are " + base::number_text(issue.number) + " points in place of one";
        case IssueKind::cannot_transform:
            return "the coordinates cannot be brought into " + m_context.systems.working.text();
        case IssueKind::zero_length:
            return base::number_text(issue.number) +
                   (issue.number > 1.0 ? " lines have" : " line has") + " no length";
        case IssueKind::unknown_word:
        case IssueKind::at_origin:
        case IssueKind::with_unit:
        case IssueKind::decimal_comma:
        case IssueKind::grouped:
            break;
        }
        return {};
    }

    static const char* consequence(Rule rule) {
        return rule == Rule::bad_value ? "; it counts as not recorded." : "; it is not used.";
    }

    void write_one(Rule rule, std::uint32_t position, const std::vector<Issue>& issues) {
        std::string message = asset_name(m_assets, position) + ": ";
        for (std::size_t i = 0; i < issues.size(); ++i) {
            message += (i == 0 ? "" : " and ") + fault(issues[i]);
        }
        const bool nameless = issues.front().kind == IssueKind::not_recorded;
        message += nameless && issues.size() == 1 ? std::string(".") : consequence(rule);
        base::Finding finding =
            finding_at(m_assets, position, rule, std::move(message),
                       nameless                                             ? kCheckId
                       : rule == Rule::bad_value                            ? kCheckValue
                       : issues.front().kind == IssueKind::cannot_transform ? kCheckSystem
                                                                            : kCheckGeometry);
        if (issues.front().kind == IssueKind::out_of_range) {
            finding.value = issues.front().number;
        }
        if (rule == Rule::zero_length) {
            finding.value = 0.0;
            finding.unit = "m";
            finding.count = static_cast<std::int64_t>(issues.front().number);
        }
        m_context.findings.add(std::move(finding));
    }

    /// "(field LEN) ... with a decimal comma": how the numbers are written.
    static std::string_view manner(IssueKind kind) {
        return kind == IssueKind::with_unit       ? "with a unit"
               : kind == IssueKind::decimal_comma ? "with a decimal comma"
                                                  : "with thousands set apart";
    }

    void write_note(const Use& use) {
        const Issue& issue = use.first.issue;
        const base::Unit* unit =
            base::unit_of_field(contract_fields(m_assets.layer)[issue.field].name);
        const std::string read = base::number_text(issue.number) +
                                 (unit == nullptr ? "" : " " + std::string(unit->name));
        base::Finding finding =
            finding_at(m_assets, use.first.position, Rule::bad_value,
                       "The field " + field(issue) + " of layer " +
                           std::string(base::layer_name(m_assets.layer)) +
                           " holds text: its numbers are "
                           "written " +
                           std::string(manner(issue.kind)) + " (" + std::to_string(use.count) +
                           (use.count == 1 ? " feature" : " features") +
                           "); they are used, here as " + read + ".",
                       "Keep numbers in a field of numbers, all in one unit");
        finding.severity = base::Severity::note;
        finding.value = issue.number;
        finding.unit = unit == nullptr ? "" : unit->name;
        finding.count = use.count;
        m_context.findings.add(std::move(finding));
    }

    /// A status that nobody can read may be that of something removed or disconnected.
    [[nodiscard]] std::string consequence_of_word(const Issue& issue) const {
        if (contract_fields(m_assets.layer)[issue.field].name != "status") {
            return "; it counts as not recorded.";
        }
        return ": taken to be in service. If it stands for removed or disconnected, every figure "
               "that counts on these is wrong.";
    }

    void write_word(const Placed& first, std::int64_t count) {
        std::vector<std::string> words;
        for (const std::string_view word : m_allowed[first.issue.field].words) {
            words.emplace_back(word);
        }
        constexpr std::size_t kMost = 8;
        const std::string message =
            "The word " + quoted(text(first.issue)) + " in field " + field(first.issue) +
            " of layer " + std::string(base::layer_name(m_assets.layer)) + " (" +
            std::to_string(count) + (count == 1 ? " feature" : " features") + ") is not known" +
            consequence_of_word(first.issue);
        base::Finding finding =
            finding_at(m_assets, first.position, Rule::bad_value, message,
                       "Check the word, or say in the job file under `values` what it stands for; "
                       "known are " +
                           base::listed(words, kMost));
        finding.count = count;
        if (contract_fields(m_assets.layer)[first.issue.field].name == "status") {
            m_context.result.assumptions.push_back(message);
        }
        m_context.findings.add(std::move(finding));
    }

    Context& m_context;
    const Assets& m_assets;
    std::vector<AllowedValue> m_allowed;
};

} // namespace

void report_issues(Context& context, const Assets& assets) {
    const std::vector<Placed> issues = placed(context.record(assets.layer));
    IssueWriter writer(context, assets);
    writer.write_each(issues);
    writer.write_words(issues);
    writer.write_notes(issues);
}

} // namespace loopwalk::input

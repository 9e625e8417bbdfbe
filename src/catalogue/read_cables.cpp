#include "loopwalk/base/text.hpp"

#include "read_tables.hpp"
#include "table.hpp"
#include <array>
#include <cmath>
#include <set>

namespace loopwalk::catalogue {

namespace {

constexpr std::array<std::string_view, 4> kConductors{"line", "neutral", "armour", "cpc"};
constexpr std::array<std::string_view, 6> kConductorFields{"r20_ohm_km", "x_ohm_km", "alpha",
                                                           "c",          "csa_mm2",  "k"};

std::vector<std::string> cable_headings() {
    std::vector<std::string> headings{"cable_type", "description"};
    for (const std::string_view conductor : kConductors) {
        for (const std::string_view field : kConductorFields) {
            headings.push_back(std::string(conductor) + "_" + std::string(field));
        }
    }
    headings.insert(headings.end(), {"earth_path", "ampacity_a", "source"});
    return headings;
}

/// A row without the conductor has all its fields blank: half a conductor is a slip.
void check_all_blank(const Row& row, const std::string& prefix) {
    std::vector<std::string_view> fields(kConductorFields.begin(), kConductorFields.end());
    fields.emplace_back("r20_low_ohm_km"); // optional
    for (const std::string_view field : fields) {
        if (!row.text(prefix + std::string(field)).empty()) {
            row.fail(prefix + "r20_ohm_km", "is blank although " + prefix + std::string(field) +
                                                " is given; a conductor needs its resistance");
        }
    }
}

std::optional<Conductor> read_conductor(const Row& row, std::string_view name) {
    const std::string prefix = std::string(name) + "_";
    const std::optional<double> r20 = row.positive(prefix + "r20_ohm_km");
    if (!r20) {
        check_all_blank(row, prefix);
        return std::nullopt;
    }
    Conductor conductor;
    conductor.r20 = OhmPerKm(*r20);
    conductor.r20_low = row.quantity<OhmPerKm>(prefix + "r20_low_ohm_km");
    if (conductor.r20_low && *conductor.r20_low > conductor.r20) {
        row.fail(prefix + "r20_low_ohm_km", "must not be above " + prefix + "r20_ohm_km");
    }
    conductor.x = OhmPerKm(row.needed_number(prefix + "x_ohm_km"));
    conductor.alpha_per_k = row.needed_number(prefix + "alpha");
    conductor.hot = base::Celsius(row.needed_number(prefix + "c"));
    conductor.csa = row.quantity<base::SquareMillimetre>(prefix + "csa_mm2");
    conductor.k = row.quantity<Number>(prefix + "k");
    if (conductor.x < OhmPerKm(0.0)) {
        row.fail(prefix + "x_ohm_km", "must not be below 0");
    }
    if (conductor.alpha_per_k < 0.0) {
        row.fail(prefix + "alpha", "must not be below 0");
    }
    // The hot state must not have less resistance than the cold one, or low and high swap.
    if (conductor.hot < base::Celsius(20.0)) {
        row.fail(prefix + "c", "must be at least 20");
    }
    return conductor;
}

void check_has(const Row& row, const std::optional<Conductor>& conductor, std::string_view name) {
    if (!conductor) {
        row.fail("earth_path",
                 "names the " + std::string(name) + ", which this row does not describe");
    }
}

EarthPath read_earth_path(const Row& row, const CableType& cable) {
    const std::vector<std::string> words{"armour", "cpc", "armour+cpc", "neutral", "none"};
    static_assert(static_cast<int>(EarthPath::none) == 4);
    const std::optional<std::size_t> word = row.word("earth_path", words);
    if (!word) {
        row.fail("earth_path", "is blank; write one of " + base::listed(words, words.size()));
    }
    const auto path = static_cast<EarthPath>(*word);
    if (path == EarthPath::armour || path == EarthPath::armour_and_cpc) {
        check_has(row, cable.armour, "armour");
    }
    if (path == EarthPath::cpc || path == EarthPath::armour_and_cpc) {
        check_has(row, cable.cpc, "cpc");
    }
    if (path == EarthPath::neutral) {
        check_has(row, cable.neutral, "neutral");
    }
    return path;
}

CableUse read_use(const Row& row, EarthPath path) {
    const std::optional<std::size_t> word = row.word("use", {"circuit", "service", "main", "tail"});
    static_assert(static_cast<int>(CableUse::tail) == 3);
    if (word) {
        return static_cast<CableUse>(*word);
    }
    return path == EarthPath::none ? CableUse::tail : CableUse::circuit;
}

int read_cores(const Row& row) {
    const double cores = row.positive("cores").value_or(0.0);
    if (cores != std::floor(cores) || cores > 1000.0) {
        row.fail("cores", "must be a whole number");
    }
    return static_cast<int>(cores);
}

CableType read_cable(const Row& row) {
    CableType cable;
    cable.name = row.needed_text("cable_type");
    cable.description = row.text("description");
    const std::optional<Conductor> line = read_conductor(row, "line");
    if (!line) {
        row.fail("line_r20_ohm_km", "is blank; every cable has a line conductor");
    }
    cable.line = *line;
    cable.neutral = read_conductor(row, "neutral");
    cable.armour = read_conductor(row, "armour");
    cable.cpc = read_conductor(row, "cpc");
    cable.earth_path = read_earth_path(row, cable);
    cable.use = read_use(row, cable.earth_path);
    cable.cores = read_cores(row);
    cable.ampacity = row.quantity<Ampere>("ampacity_a");
    cable.source = row.text("source");
    return cable;
}

} // namespace

std::vector<CableType> read_cables(std::string_view text, const std::string& file) {
    const Table table(text, file, cable_headings());
    std::vector<CableType> cables;
    std::set<std::string> names;
    for (std::size_t i = 0; i < table.row_count(); ++i) {
        const Row row(table, i);
        cables.push_back(read_cable(row));
        if (!names.insert(base::folded(cables.back().name)).second) {
            row.fail("cable_type", "\"" + cables.back().name + "\" stands in the file twice");
        }
    }
    return cables;
}

} // namespace loopwalk::catalogue

#include "copy_plan.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace loopwalk::gis {

namespace {

constexpr const char* kOwnPrefix = "lw_";

/// Names in use, without case.
class Names {
  public:
    [[nodiscard]] bool has(const std::string& name) const {
        return m_taken.contains(base::folded(name));
    }
    void take(const std::string& name) { m_taken.insert(base::folded(name)); }

  private:
    std::set<std::string> m_taken;
};

/// The first free one of the candidates, the last with a number if need be.
/// Tables of a database take no longer names; one that is cut there would be another column.
constexpr std::size_t kLongestName = 63;

std::string first_free(const std::vector<std::string>& candidates, const Names& taken) {
    for (const std::string& candidate : candidates) {
        if (!candidate.empty() && candidate.size() <= kLongestName && !taken.has(candidate)) {
            return candidate;
        }
    }
    for (int n = 2;; ++n) {
        std::string numbered = candidates.back() + "_" + std::to_string(n);
        if (!taken.has(numbered)) {
            return numbered;
        }
    }
}

bool is_own(const char* name) {
    return base::folded(name).starts_with(kOwnPrefix);
}

Transfer transfer_of(OGRFieldType type) {
    switch (type) {
    case OFTInteger:
    case OFTInteger64:
    case OFTReal:
    case OFTString:
    case OFTBinary:
    case OFTDate:
    case OFTDateTime:
        return Transfer::as_stored;
    case OFTIntegerList:
    case OFTInteger64List:
    case OFTRealList:
    case OFTStringList:
        return Transfer::as_json;
    case OFTTime:
    case OFTWideString:
    case OFTWideStringList:
        break;
    }
    return Transfer::as_text;
}

/// Type, subtype, width. Constraints and defaults are left behind: a record that breaks them
/// has to arrive all the same, and null has to stay null.
OutputColumn column_like(const OGRFieldDefn& source, std::string name) {
    const Transfer transfer = transfer_of(source.GetType());
    OutputColumn column;
    column.name = std::move(name);
    if (transfer == Transfer::as_stored) {
        column.type = source.GetType();
        column.subtype = source.GetSubType();
        column.width = source.GetWidth();
        column.precision = source.GetPrecision();
    } else if (transfer == Transfer::as_json) {
        column.subtype = OFSTJSON;
    }
    return column;
}

/// Names that a renamed field must not get either: they belong to another field of the sources.
Names names_of(const std::vector<CopiedSource>& sources) {
    Names names;
    for (const CopiedSource& source : sources) {
        const OGRFeatureDefn& definition = *source.layer->GetLayerDefn();
        for (int i = 0; i < definition.GetFieldCount(); ++i) {
            names.take(definition.GetFieldDefn(i)->GetNameRef());
        }
    }
    return names;
}

std::string copied_name(const std::string& name, const std::string& key, Names& taken,
                        const Names& spoken_for) {
    if (!taken.has(name)) {
        taken.take(name);
        return name;
    }
    const bool is_key = base::folded(name) == base::folded(key);
    const std::string start = is_key ? name + "_original" : name;
    std::string renamed = is_key ? start : start + "_2";
    for (int n = is_key ? 2 : 3; taken.has(renamed) || spoken_for.has(renamed); ++n) {
        renamed = start + "_" + std::to_string(n);
    }
    taken.take(renamed);
    return renamed;
}

bool is_integer(OGRFieldType type) {
    return type == OFTInteger || type == OFTInteger64;
}

/// The column for two fields of one name. What an integer of 64 bits and a real number have in
/// common is a text: a real number holds no more than 53 of them.
OutputColumn united(const OutputColumn& a, const OutputColumn& b) {
    OutputColumn both;
    both.name = a.name;
    both.width = a.width == 0 || b.width == 0 ? 0 : std::max(a.width, b.width);
    both.precision = std::max(a.precision, b.precision);
    if (a.type == b.type) {
        both.type = a.type;
        both.subtype = a.subtype == b.subtype ? a.subtype : OFSTNone;
        return both;
    }
    both.width = 0;
    both.precision = 0;
    if (is_integer(a.type) && is_integer(b.type)) {
        both.type = OFTInteger64;
    } else if ((a.type == OFTInteger && b.type == OFTReal) ||
               (a.type == OFTReal && b.type == OFTInteger)) {
        both.type = OFTReal;
    }
    return both;
}

/// How values of a source's field come into a column that others share.
Transfer transfer_into(OGRFieldType from, OGRFieldType column) {
    const Transfer own = transfer_of(from);
    if (own != Transfer::as_stored || from == column) {
        return own;
    }
    if (column == OFTString) {
        return Transfer::as_text;
    }
    return column == OFTReal ? Transfer::as_real : Transfer::as_stored;
}

/// Gathers the columns of the sources, field by field.
class Columns {
  public:
    Columns(CopyPlan& plan, Names taken, Names spoken_for)
        : m_plan(plan), m_taken(std::move(taken)), m_spoken_for(std::move(spoken_for)) {}

    void add(const OGRFeatureDefn& definition) {
        CopiedLayer& source = m_plan.sources.emplace_back();
        std::set<std::size_t> own; // a name that occurs twice in one source is two columns
        for (int i = 0; i < definition.GetFieldCount(); ++i) {
            const OGRFieldDefn& field = *definition.GetFieldDefn(i);
            if (is_own(field.GetNameRef())) {
                source.dropped.emplace_back(field.GetNameRef());
                continue;
            }
            const std::size_t to = column_for(field, own);
            own.insert(to);
            source.fields.push_back(
                {i, field.GetType(), Transfer::as_stored, static_cast<int>(to)});
        }
    }

  private:
    std::size_t column_for(const OGRFieldDefn& field, const std::set<std::size_t>& own) {
        const std::string name = base::folded(field.GetNameRef());
        for (std::size_t i = 0; i < m_names.size(); ++i) {
            if (m_names[i] == name && !own.contains(i)) {
                OutputColumn& column = m_plan.columns[i];
                column = united(column, column_like(field, column.name));
                return i;
            }
        }
        m_names.push_back(name);
        m_plan.columns.push_back(
            column_like(field, copied_name(field.GetNameRef(), m_plan.key, m_taken, m_spoken_for)));
        return m_names.size() - 1;
    }

    CopyPlan& m_plan;
    Names m_taken;
    Names m_spoken_for;
    std::vector<std::string> m_names; ///< as the sources call the columns, without case
};

OGRwkbGeometryType geometry_type_of(const CopiedSource& source) {
    return source.has_place_fields ? wkbPoint : source.layer->GetGeomType();
}

OGRwkbGeometryType geometry_type_of(const std::vector<CopiedSource>& sources) {
    const OGRwkbGeometryType first = geometry_type_of(sources.front());
    const bool all_alike =
        std::all_of(sources.begin(), sources.end(), [first](const CopiedSource& source) {
            return geometry_type_of(source) == first;
        });
    return all_alike ? first : wkbUnknown;
}

} // namespace

CopyPlan plan_copy(const std::vector<CopiedSource>& sources,
                   const std::vector<OutputField>& added) {
    CopyPlan plan;
    OGRLayer& first = *sources.front().layer;
    Names taken;
    for (const OutputField& field : added) {
        taken.take(field.name);
    }
    plan.key = first_free({first.GetFIDColumn(), "fid", "key"}, taken);
    taken.take(plan.key);
    plan.geometry_type = geometry_type_of(sources);
    if (plan.geometry_type != wkbNone) {
        plan.geometry = first_free({first.GetGeometryColumn(), "geom", "geometry"}, taken);
        taken.take(plan.geometry);
    }
    Columns columns(plan, std::move(taken), names_of(sources));
    for (const CopiedSource& source : sources) {
        columns.add(*source.layer->GetLayerDefn());
    }
    for (CopiedLayer& source : plan.sources) {
        for (CopiedField& field : source.fields) {
            field.transfer =
                transfer_into(field.type, plan.columns[static_cast<std::size_t>(field.to)].type);
        }
    }
    return plan;
}

} // namespace loopwalk::gis

#include "copy_plan.hpp"

#include "loopwalk/base/text.hpp"

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
std::string first_free(const std::vector<std::string>& candidates, const Names& taken) {
    for (const std::string& candidate : candidates) {
        if (!candidate.empty() && !taken.has(candidate)) {
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
        return Transfer::move;
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
    if (transfer == Transfer::move) {
        column.type = source.GetType();
        column.subtype = source.GetSubType();
        column.width = source.GetWidth();
        column.precision = source.GetPrecision();
    } else if (transfer == Transfer::as_json) {
        column.subtype = OFSTJSON;
    }
    return column;
}

/// Names that a renamed field must not get either: they belong to another field of the source.
Names names_of(const OGRFeatureDefn& definition) {
    Names names;
    for (int i = 0; i < definition.GetFieldCount(); ++i) {
        names.take(definition.GetFieldDefn(i)->GetNameRef());
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

} // namespace

CopyPlan plan_copy(OGRLayer& source, const std::vector<OutputField>& added) {
    CopyPlan plan;
    Names taken;
    for (const OutputField& field : added) {
        taken.take(field.name);
    }
    plan.key = first_free({source.GetFIDColumn(), "fid", "key"}, taken);
    taken.take(plan.key);
    plan.geometry_type = source.GetGeomType();
    if (plan.geometry_type != wkbNone) {
        plan.geometry = first_free({source.GetGeometryColumn(), "geom", "geometry"}, taken);
        taken.take(plan.geometry);
    }
    const OGRFeatureDefn& definition = *source.GetLayerDefn();
    const Names spoken_for = names_of(definition);
    for (int i = 0; i < definition.GetFieldCount(); ++i) {
        const OGRFieldDefn& field = *definition.GetFieldDefn(i);
        if (is_own(field.GetNameRef())) {
            plan.dropped.emplace_back(field.GetNameRef());
            continue;
        }
        std::string name = copied_name(field.GetNameRef(), plan.key, taken, spoken_for);
        plan.fields.push_back(
            {i, transfer_of(field.GetType()), column_like(field, std::move(name))});
    }
    return plan;
}

} // namespace loopwalk::gis

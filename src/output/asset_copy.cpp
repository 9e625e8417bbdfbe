#include "loopwalk/base/error.hpp"

#include "writer.hpp"

namespace loopwalk::output {

namespace {

std::vector<gis::CopySource> copied(input::Source& source, base::AssetLayer layer,
                                    const std::vector<input::SourcePart>& parts) {
    const std::vector<gis::Layer*> layers = source.parts(layer);
    LW_ASSERT(!layers.empty() && layers.size() == parts.size());
    std::vector<gis::CopySource> sources;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        sources.push_back({layers[i], parts[i].offset});
    }
    return sources;
}

std::vector<gis::OutputField> with_source(std::vector<gis::OutputField> fields,
                                          const std::vector<input::SourcePart>& parts) {
    if (parts.size() > 1) {
        fields.insert(fields.end(), source_fields().begin(), source_fields().end());
    }
    return fields;
}

} // namespace

const std::vector<gis::OutputField>& source_fields() {
    static const std::vector<gis::OutputField> fields{{"lw_source_dataset", gis::FieldKind::text},
                                                      {"lw_source_layer", gis::FieldKind::text},
                                                      {"lw_source_fid", gis::FieldKind::integer}};
    return fields;
}

void fill_source(gis::Row& row, std::size_t first_field, const input::SourcePart& part,
                 std::int64_t fid) {
    row.set(first_field, std::string_view(part.dataset));
    row.set(first_field + 1, std::string_view(part.layer));
    row.set(first_field + 2, fid - part.offset);
}

AssetCopy::AssetCopy(input::Source& source, gis::OutputDataset& out, const input::ReadResult& read,
                     base::AssetLayer layer, std::vector<gis::OutputField> added)
    : m_positions(read.position_of_feature[static_cast<std::size_t>(layer)]),
      m_fids(read.fid_of_feature[static_cast<std::size_t>(layer)]),
      m_parts(read.parts[static_cast<std::size_t>(layer)]), m_layer(layer),
      m_is_part(!read.part.empty()), m_added(added.size()),
      m_copier(out.copy_layers(copied(source, layer, m_parts), std::string(base::layer_name(layer)),
                               with_source(std::move(added), m_parts))) {
    LW_ASSERT(m_positions.size() == m_fids.size());
}

bool AssetCopy::next() {
    while (m_copier.next()) {
        if (is_input(m_copier.fid())) {
            m_position = m_positions[m_next++];
            return true;
        }
    }
    if (m_next != m_fids.size()) {
        fail();
    }
    return false;
}

/// Whether the feature is the next one that was read. Where only a part was read, others lie
/// between; the end tells if one of them was ours.
bool AssetCopy::is_input(std::int64_t fid) {
    const bool is_next = m_next < m_fids.size() && m_fids[m_next] == fid;
    if (!is_next && !m_is_part) {
        fail();
    }
    return is_next;
}

void AssetCopy::write() {
    if (m_parts.size() > 1) {
        fill_source(m_copier.row(), m_added, m_parts[m_copier.source()], m_copier.fid());
    }
    m_copier.write();
}

void AssetCopy::fail() const {
    throw base::InputError("the layer " + std::string(base::layer_name(m_layer)) +
                           " was changed while it was read: a second reading finds other features "
                           "or another order. Run again when nobody edits it, or read a copy");
}

} // namespace loopwalk::output

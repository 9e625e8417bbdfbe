#include "loopwalk/base/error.hpp"

#include "writer.hpp"

namespace loopwalk::output {

CopyGuide::CopyGuide(const input::ReadResult& read, base::AssetLayer layer)
    : m_positions(read.position_of_feature[static_cast<std::size_t>(layer)]),
      m_fids(read.fid_of_feature[static_cast<std::size_t>(layer)]), m_layer(layer),
      m_is_part(!read.part.empty()) {
    LW_ASSERT(m_positions.size() == m_fids.size());
}

std::optional<std::uint32_t> CopyGuide::next(std::int64_t fid) {
    if (m_is_part && (m_next == m_fids.size() || m_fids[m_next] != fid)) {
        return std::nullopt; // finish() tells if it was one of ours
    }
    if (m_next == m_fids.size() || m_fids[m_next] != fid) {
        fail();
    }
    return m_positions[m_next++];
}

void CopyGuide::finish() const {
    if (m_next != m_fids.size()) {
        fail();
    }
}

void CopyGuide::fail() const {
    throw base::InputError("the layer " + std::string(base::layer_name(m_layer)) +
                           " was changed while it was read: a second reading finds other features "
                           "or another order. Run again when nobody edits it, or read a copy");
}

} // namespace loopwalk::output

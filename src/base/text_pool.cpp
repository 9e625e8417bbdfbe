#include "loopwalk/base/text_pool.hpp"

#include "loopwalk/base/error.hpp"

#include <functional>
#include <limits>
#include <string>

namespace loopwalk::base {

namespace {

constexpr std::uint32_t kEmpty = std::numeric_limits<std::uint32_t>::max();
constexpr std::size_t kFirstSlots = 64; // a power of two, as every later size

} // namespace

TextPool::TextPool() : m_offsets{0}, m_slots(kFirstSlots, kEmpty) {}

TextId TextPool::add(std::string_view text) {
    if (const auto known = find(text)) {
        return *known;
    }
    LW_ASSERT(text.size() < kEmpty - m_chars.size());
    const std::string copy(text); // `text` may be a part of m_chars, which moves
    m_chars.insert(m_chars.end(), copy.begin(), copy.end());
    m_offsets.push_back(static_cast<std::uint32_t>(m_chars.size()));
    if (size() * 2 > m_slots.size()) {
        grow();
    } else {
        m_slots[slot_of(copy)] = static_cast<std::uint32_t>(size() - 1);
    }
    return TextId(size() - 1);
}

std::optional<TextId> TextPool::find(std::string_view text) const noexcept {
    const std::uint32_t index = m_slots[slot_of(text)];
    return index == kEmpty ? std::nullopt : std::optional(TextId(index));
}

std::string_view TextPool::view(TextId id) const noexcept {
    if (!id.is_valid() || id.index() >= size()) {
        return {};
    }
    const std::uint32_t begin = m_offsets[id.index()];
    return {m_chars.data() + begin, m_offsets[id.index() + 1] - begin};
}

/// The slot that holds `text`, or the free one where it belongs.
std::size_t TextPool::slot_of(std::string_view text) const noexcept {
    const std::size_t mask = m_slots.size() - 1;
    std::size_t slot = std::hash<std::string_view>{}(text)&mask;
    while (m_slots[slot] != kEmpty && view(TextId(m_slots[slot])) != text) {
        slot = (slot + 1) & mask;
    }
    return slot;
}

void TextPool::grow() {
    m_slots.assign(m_slots.size() * 2, kEmpty);
    for (std::size_t i = 0; i < size(); ++i) {
        m_slots[slot_of(view(TextId(i)))] = static_cast<std::uint32_t>(i);
    }
}

} // namespace loopwalk::base

// Each distinct text once, addressed by a 32-bit id: ids and labels of a million assets in little
// room, and equality of labels is equality of ids.
#pragma once

#include "loopwalk/base/id.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace loopwalk::base {

/// Texts kept once each, by number. Grows only; 2^32 characters at most.
class TextPool {
  public:
    TextPool();
    /// Id of the text, added if new. Views handed out earlier may become invalid.
    TextId add(std::string_view text);
    /// Id of a text that is in the pool; none if it is not.
    [[nodiscard]] std::optional<TextId> find(std::string_view text) const noexcept;
    /// The text; empty for an invalid id. Valid until the next add().
    [[nodiscard]] std::string_view view(TextId id) const noexcept;
    /// How many different texts there are, the null text included.
    [[nodiscard]] std::size_t size() const noexcept { return m_offsets.size() - 1; }

  private:
    [[nodiscard]] std::size_t slot_of(std::string_view text) const noexcept;
    void grow();

    std::vector<char> m_chars;
    std::vector<std::uint32_t> m_offsets;
    std::vector<std::uint32_t> m_slots;
};

} // namespace loopwalk::base

// Order of records by what they say: for canonical order among features with the same id. Texts
// are compared as texts, since their ids in the pool follow the order of the file.
#pragma once

#include "loopwalk/model/layers.hpp"

#include <type_traits>
#include <vector>

namespace loopwalk::input {

/// Compares pairs of values until the first that differ.
class Comparison {
  public:
    explicit Comparison(const base::TextPool& text) : m_text(text) {}
    /// Negative, zero or positive.
    [[nodiscard]] int result() const noexcept { return m_result; }

    template <class T>
    requires std::is_arithmetic_v<T> || std::is_enum_v<T> Comparison& by(T a, T b) noexcept {
        if (m_result == 0 && a != b) {
            m_result = a < b ? -1 : 1;
        }
        return *this;
    }
    Comparison& by(base::Point2 a, base::Point2 b) noexcept { return by(a.x, b.x).by(a.y, b.y); }
    /// Not recorded comes first.
    template <class Q>
    Comparison& by(base::Maybe<Q> a, base::Maybe<Q> b) noexcept {
        return by(a.has_value(), b.has_value())
            .by(a.value_or(Q()).value(), b.value_or(Q()).value());
    }
    Comparison& by(base::TextId a, base::TextId b) noexcept {
        if (m_result == 0 && a != b) {
            m_result = m_text.view(a).compare(m_text.view(b));
        }
        return *this;
    }
    Comparison& by(const model::FuseRecord& a, const model::FuseRecord& b) noexcept {
        return by(a.word, b.word)
            .by(a.type.index(), b.type.index())
            .by(a.text, b.text)
            .by(a.rating, b.rating);
    }
    Comparison& by(const model::CableTypeRecord& a, const model::CableTypeRecord& b) noexcept {
        return by(a.type.index(), b.type.index()).by(a.text, b.text);
    }
    Comparison& by(const std::vector<base::Polyline>& a, const std::vector<base::Polyline>& b) {
        if (m_result == 0 && a != b) {
            m_result = a < b ? -1 : 1;
        }
        return *this;
    }

  private:
    const base::TextPool& m_text;
    int m_result = 0;
};

} // namespace loopwalk::input

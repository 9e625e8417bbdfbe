#include "loopwalk/gis/box_index.hpp"

#include "loopwalk/base/error.hpp"

#include <geos_c.h>

#include <algorithm>
#include <string>
#include <type_traits>

namespace loopwalk::gis {

namespace {

constexpr std::size_t kNodeCapacity = 10; // children of a tree node; GEOS' own default

void keep_message(const char* message, void* text) noexcept {
    *static_cast<std::string*>(text) = message;
}

/// GEOS does not let exceptions through a callback: it would cut the result short in silence.
void keep_item(void* item, void* found) noexcept {
    static_cast<std::vector<std::uint32_t>*>(found)->push_back(*static_cast<std::uint32_t*>(item));
}

} // namespace

struct BoxIndex::State {
    State();
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State();
    void insert(const base::Box& box, std::uint32_t& item);
    void query(const base::Box& box, std::vector<std::uint32_t>& found) const;

  private:
    struct GeometryCloser {
        GEOSContextHandle_t context;
        void operator()(GEOSGeometry* g) const noexcept { GEOSGeom_destroy_r(context, g); }
    };
    using Geometry = std::unique_ptr<GEOSGeometry, GeometryCloser>;
    [[nodiscard]] Geometry rectangle(const base::Box& box) const;

    std::string m_message;
    GEOSContextHandle_t m_context; // one for each index: a context belongs to one thread at a time
    GEOSSTRtree* m_tree;

  public:
    std::vector<std::uint32_t> items; // the tree holds pointers into it
};

BoxIndex::State::State()
    : m_context(GEOS_init_r()), m_tree(GEOSSTRtree_create_r(m_context, kNodeCapacity)) {
    GEOSContext_setErrorMessageHandler_r(m_context, &keep_message, &m_message);
    LW_ASSERT(m_tree != nullptr);
}

BoxIndex::State::~State() {
    GEOSSTRtree_destroy_r(m_context, m_tree);
    GEOS_finish_r(m_context);
}

BoxIndex::State::Geometry BoxIndex::State::rectangle(const base::Box& box) const {
    Geometry g(GEOSGeom_createRectangle_r(m_context, box.min_x, box.min_y, box.max_x, box.max_y),
               GeometryCloser{m_context});
    if (!g) {
        throw base::InternalError("spatial index: " + m_message);
    }
    return g;
}

void BoxIndex::State::insert(const base::Box& box, std::uint32_t& item) {
    const Geometry g = rectangle(box);
    GEOSSTRtree_insert_r(m_context, m_tree, g.get(), &item);
}

void BoxIndex::State::query(const base::Box& box, std::vector<std::uint32_t>& found) const {
    const Geometry g = rectangle(box);
    GEOSSTRtree_query_r(m_context, m_tree, g.get(), &keep_item, &found);
}

BoxIndex::BoxIndex(const std::vector<base::Box>& boxes) : m_state(std::make_unique<State>()) {
    m_state->items.resize(boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        m_state->items[i] = static_cast<std::uint32_t>(i);
        m_state->insert(boxes[i], m_state->items[i]);
    }
    // GEOS packs the tree at the first query; after that nothing in it changes.
    std::vector<std::uint32_t> none;
    m_state->query(boxes.empty() ? base::Box{} : boxes.front(), none);
}

BoxIndex::BoxIndex(BoxIndex&&) noexcept = default;
BoxIndex& BoxIndex::operator=(BoxIndex&&) noexcept = default;
BoxIndex::~BoxIndex() = default;

void BoxIndex::query(const base::Box& box, std::vector<std::uint32_t>& found) const {
    found.clear();
    m_state->query(box, found);
    std::sort(found.begin(), found.end());
}

} // namespace loopwalk::gis

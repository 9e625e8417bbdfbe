// The graph itself: Boost's compressed sparse row graph, frozen after building, with nothing but
// an index on each edge. Included by .cpp files only; everybody else sees network.hpp.
#pragma once

#include <boost/graph/compressed_sparse_row_graph.hpp>

#include <cstdint>

namespace loopwalk::network {

/// Index of a section, or sections.size() + index of a link.
struct EdgeIndex {
    std::uint32_t edge = 0; ///< as Network::is_section() and link() understand it
};

/// Each edge stands in it twice, once in each direction; a self-loop twice at its vertex.
using Csr = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, EdgeIndex,
                                               boost::no_property, std::uint32_t, std::uint32_t>;

/// Lets network.hpp hold the graph without knowing Boost.
struct CsrHolder {
    Csr csr; ///< of all vertices, those without an edge too
};

} // namespace loopwalk::network

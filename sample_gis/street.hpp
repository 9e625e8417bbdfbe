// A street: a gently curved line with a feeder pillar in the middle, and circuits ("arms") that run
// from it along one footway, looped from column to column.
#pragma once

#include "town.hpp"

namespace town {

/// Where a street lies: blocks run from west to east, rows from south to north.
struct Plot {
    Text code; ///< two letters, in front of every id of the street
    Text road;
    Text area;
    int block = 0;
    int row = 0;
    double curve = 0.0; ///< bend of the street, per metre
};

enum class Heading { east, west };
enum class Footway { north, south };

/// A looped circuit of one way. Its figures decide the margins, so they stand together.
struct Arm {
    int way = 1;
    Heading heading = Heading::east;
    Footway footway = Footway::north;
    int columns = 4;
    double spacing_m = 20.0;
    Text cable_type = "SWA XLPE Cu 2x6";
    Text phase = "L1";
    double fuse_a = 16.0;
    double load_w = 36.0;
    int first_number = 1; ///< of its columns: a second arm of the same way goes on counting
};

class Street {
  public:
    Street(Town& town, Plot plot) : m_town(town), m_plot(std::move(plot)) {}

    /// A point `along` metres east and `across` metres north of the middle of the street.
    [[nodiscard]] Point2 at(double along, double across) const;
    [[nodiscard]] Text pillar_id() const { return "P-" + m_plot.code; }
    [[nodiscard]] Text circuit(int way) const { return m_plot.code + std::to_string(way); }
    [[nodiscard]] Text column_id(int way, int number) const;
    /// Of the cable that leads to that column.
    [[nodiscard]] Text cable_id(int way, int number) const;
    [[nodiscard]] const Plot& plot() const { return m_plot; }
    [[nodiscard]] Point2 place_on(const Arm& arm, int position) const;

    /// The pillar in the middle; alter it through the reference.
    Supply& add_pillar();
    Way& add_way(int way, const Text& phase, double fuse_a);
    /// A column with the street's names, not yet cabled.
    Column& add_column(const Text& id, Point2 place);
    /// Way, columns and cables of a looped circuit.
    void add_arm(const Arm& arm);
    /// A column on a direct service of its own, with the service and its cable.
    Column& add_service_column(const Text& number, Point2 place, Point2 service,
                               const Text& cable_type);

  private:
    Town& m_town;
    Plot m_plot;
    bool m_has_service = false;
};

} // namespace town

// Random streets as they are: pillars with ways, section pillars, joints, cut-outs that feed on, a
// main with services. What is lost and who is dark is found by plain search from lamp to source, a
// column at a time; nothing of it is taken from the program. The records of a world may leave out
// what the world knows (phases, switching, the side of a cut-out).
#pragma once

#include "loopwalk/model/layers.hpp"

#include <cstdint>
#include <optional>
#include <random>
#include <string>
#include <vector>

namespace loopwalk::test {

enum class Site : std::uint8_t { pillar, section_pillar, column, joint, fused_joint, bare, tap };

/// Whether the records tell all that the world knows.
enum class Telling : std::uint8_t { all, worn };

struct World {
    struct Node {
        Site site{};
        double x = 0.0, y = 0.0;
        std::string id;
        int phase = 0; ///< of a column: 1 to 3
        bool tells_phase = true;
        model::Control control = model::Control::own_photocell; ///< of a column
        bool tells_control = true;
        bool on_main = false; ///< a column without a cable, beside the main
    };
    struct Cable {
        int a = 0, b = 0;
        std::string label;      ///< where it ends at a supply; empty elsewhere
        int open_at = -1;       ///< node at which it is open; -1: none
        int fused_at = -1;      ///< column on whose fused side it ends; -1: none
        bool tells_side = true; ///< else the side of that end is recorded as unknown
        bool conducts = true;
    };
    std::vector<Node> nodes;
    std::vector<Cable> cables;
    bool is_three_phase = false;
    bool is_group_switched = false; ///< by contactors of the ways

    [[nodiscard]] std::vector<int> columns() const;
    [[nodiscard]] bool is_supply(int node) const {
        return nodes[static_cast<std::size_t>(node)].site == Site::pillar ||
               nodes[static_cast<std::size_t>(node)].site == Site::section_pillar;
    }
};

enum class Part : std::uint8_t {
    cable,     ///< by cable number
    terminals, ///< by node, likewise the next ones
    lamp,
    cut_out,
    joint,
    meeting,
    busbar,
    pillar,
    way, ///< by node, and label
    tap,
    main,
    unrecorded, ///< source of a part that no source on record feeds, by its first column
};
enum class Of : std::uint8_t { whole, switching, l1, l2, l3 };

struct Fault {
    Part part{};
    int at = 0;
    std::string label; ///< of a way
    Of of = Of::whole;
    friend auto operator<=>(const Fault&, const Fault&) = default;
};
[[nodiscard]] std::string text_of(const World& world, const Fault& fault);

[[nodiscard]] World random_world(std::mt19937_64& random, Telling telling, int side);

/// Every place that can be lost, all of it or the parts of it that make a difference.
[[nodiscard]] std::vector<Fault> all_faults(const World& world);

/// One bit for each of World::columns(): without supply, or with a lamp that does not work.
[[nodiscard]] std::uint64_t dark_columns(const World& world, const std::vector<Fault>& faults);

[[nodiscard]] model::Layers records_of(const World& world);

} // namespace loopwalk::test

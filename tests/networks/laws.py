"""Laws that need no other program, on random resistive networks through the whole program.

    laws.py SEED COUNT LOOPWALK CATALOGUE

Rayleigh's monotonicity law: one more cable raises no loop impedance, one less lowers none. Reciprocity:
with supply and column exchanged the loop is the same. Cables three times as long have three times the
ohms. A higher loop impedance behind one device never clears sooner.
"""

import copy
import csv
import os
import random
import sys
import tempfile

import cable_ohms
import networks
from simulators import check_with_program

COUSINS = ("same", "more", "less", "exchanged", "tripled")
SHAPES = ("tree", "ring", "mesh", "parallel")
FIELDS = ("lw_zs_low_ohm", "lw_zs_high_ohm")
NEAR = 1e-12


def one_more(network, rng, types):
    network.edges.append(networks.Edge(*rng.sample(range(len(network.nodes)), 2),
                                       rng.choice(types), networks.random_length(rng), 0.05))


def one_less(network, rng):
    network.edges.pop(rng.randrange(len(network.edges)))


def exchange(network, column):
    """The supply stands where the column stood, and the other way round."""
    network.nodes[0], network.nodes[column] = "column", "supply"
    network.supplies = {column: network.supplies[0]}
    network.loads[0] = network.loads.pop(column)


def triple(network):
    for edge in network.edges:
        edge.length *= 3.0


def cousins_of(network, rng, types):
    """The network and four that differ from it in one thing each."""
    made = {name: copy.deepcopy(network) for name in COUSINS}
    one_more(made["more"], rng, types)
    one_less(made["less"], rng)
    column = rng.choice(network.columns())
    exchange(made["exchanged"], column)
    triple(made["tripled"])
    for name, cousin in made.items():
        cousin.name += name[0]
        cousin.ways = {}
        networks.label_ways(cousin, rng, True)
    return made, column


class Laws:
    def __init__(self, rows):
        self.rows, self.seen, self.timed, self.faults = rows, {}, 0, []

    def ask(self, law, holds, *what):
        self.seen[law] = self.seen.get(law, 0) + 1
        if not holds:
            self.faults.append("%s: %s" % (law, ", ".join(str(w) for w in what)))

    def no_more(self, law, network, other):
        """The other's loops are no higher, where it has any."""
        for column in network.columns():
            mine, its = (self.rows[n.id_of(column)] for n in (network, other))
            for field in FIELDS:
                if mine[field] is not None:
                    self.ask(law, its[field] <= mine[field] * (1.0 + NEAR),
                             its["column_id"], field, its[field], mine[field])

    def reciprocal(self, network, column, other):
        mine, its = self.rows[network.id_of(column)], self.rows[other.id_of(0)]
        for field in FIELDS:
            self.ask("reciprocity", abs(mine[field] - its[field]) <= NEAR * mine[field],
                     mine["column_id"], field, mine[field], its[field])

    def tripled(self, network, other):
        ze = network.supplies[0]["ze_ohm"]
        for column in network.columns():
            mine, its = (self.rows[n.id_of(column)] for n in (network, other))
            for field in FIELDS:
                self.ask("scaling", abs(3.0 * (mine[field] - ze) - (its[field] - ze))
                         <= NEAR * its[field], mine["column_id"], field, mine[field], its[field])

    def later(self, *of_one_device):
        """Times of one device, from the lowest loop impedance to the highest."""
        rows = sorted((self.rows[n.id_of(c)] for n in of_one_device for c in n.columns()),
                      key=lambda row: row["lw_zs_high_ohm"])
        last = 0.0
        self.timed += sum(row["lw_in_clear_s"] is not None for row in rows)
        for row in rows:
            time = row["lw_in_clear_s"]
            time = float("inf") if time is None else time
            self.ask("no sooner", time >= last, row["column_id"], time, last)
            last = time


def write_resistive(cables, path):
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(next(iter(cables.values()))))
        writer.writeheader()
        for row in cables.values():
            writer.writerow({name: "0" if name.endswith("_x_ohm_km") and value else value
                             for name, value in row.items()})


def main(seed, count, program, catalogue):
    cables = cable_ohms.read_cables(catalogue)
    types = cable_ohms.circuit_types(cables)
    families = []
    for number in range(count):
        network = networks.make_network("laws " + seed, number, SHAPES[number % len(SHAPES)],
                                        types, lambda _: 1.0)
        source = network.supplies[0]
        source.setdefault("ze_ohm", 0.2)
        source.pop("ze_r_ohm", None), source.pop("ze_x_ohm", None)
        families.append(cousins_of(network, random.Random("%s/%d" % (seed, number)), types))
    with tempfile.TemporaryDirectory() as folder:
        job = networks.write_job([n for made, _ in families for n in made.values()], folder)
        write_resistive(cables, os.path.join(folder, "cables.csv"))
        with open(job, "a", encoding="utf-8") as file:
            file.write('[catalogue]\ncables = "cables.csv"\n')
        laws = Laws(check_with_program(program, job, folder))
    for made, column in families:
        laws.no_more("one cable more", made["same"], made["more"])
        laws.no_more("one cable less", made["less"], made["same"])
        laws.reciprocal(made["same"], column, made["exchanged"])
        laws.tripled(made["same"], made["tripled"])
        laws.later(made["same"], made["tripled"])
    print("seed %s: %d networks; asked: %s (%d with a time)" % (seed, count, ", ".join(
        "%s %d" % item for item in laws.seen.items()), laws.timed))
    if laws.faults:
        sys.exit("\n".join(["%d do not hold:" % len(laws.faults)] + laws.faults[:20]))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), sys.argv[3], sys.argv[4])

"""Small random worlds over every layer of the data model: mains and substations, pillars, section
pillars and services, rings, parallel cables, tees, gaps, fused joints, cut-outs fed through, loads,
readings; every attribute sometimes missing, sometimes a word nobody knows, sometimes absurd.
"""
import geopackage as gp

SPACING = 20.0
EAST, NORTH = 400000.0, 300000.0
CABLES = ["SWA XLPE Cu 2x6", "SWA XLPE Cu 2x16", "SWA XLPE Cu 3x6", "SWA XLPE Cu 3x10 both",
          "SWA XLPE Cu 3x1.5 armour", "Main CNE Al 185", "old twin, see file"]
FUSES = ["BS 88-2", "BS 88-3", "BS 3036", "BS 1361", "gG", "MCB B", "none", "screw-in, brown"]
RATINGS = [2, 4, 6, 10, 16, 20, 25, 32, 63, 100, 7.5, 0.001, 1e6]
PHASES = ["L1", "L2", "L3", "red"]
CONTROLS = ["permanent", "own photocell", "group switched", "switch core", "unknown", "?"]
STATUSES = ["in service", "proposed", "removed", "disconnected", "gone"]
OWNERS = ["council", "council", "council", "distributor", "unknown", "both"]
EARTHINGS = ["TN-C-S", "TN-S", "TT", "unknown"]
USES = ["lighting", "sign", "socket", "charger", "camera", "festive"]


class World:
    def __init__(self, rng):
        self.rng = rng
        self.layers = {}
        self.places = {}  # (i, j) on the grid -> assets there: (layer, id)
        self.taps = []
        self.cables = []
        # how much of the records is there: whole ones, worn ones and ruins
        self.known = rng.choice([1.0, 0.9, 0.7, 0.4])
        self.odd = rng.choice([0.0, 0.0, 0.02, 0.1])

    def add(self, layer, kind, shape, values):
        rows = self.layers.setdefault(layer, (kind, []))[1]
        kept = {}
        for name, value in values.items():
            needed = name in ("column_id", "cable_id", "supply_id", "main_id", "joint_id", "way",
                              "asset_id")
            if value is None or (not needed and self.rng.random() > self.known):
                continue
            if not needed and self.rng.random() < self.odd:
                value = (self.rng.choice([0, -1, 1e9, 1e-9]) if isinstance(value, (int, float))
                         else self.rng.choice(["", "  ", "?", "n/a", value.upper()]))
            kept[name] = value
        rows.append((shape, kept))

    def place(self):
        return (self.rng.randrange(6), self.rng.randrange(6))

    def metres(self, at):
        return (EAST + SPACING * at[0], NORTH + SPACING * at[1])

    def near(self, at):
        """Where a cable is drawn to: at the place, a little beside it, or short of it."""
        x, y = self.metres(at)
        slack = self.rng.choice([0.0, 0.0, 0.0, 0.3, 1.5])
        return (x + self.rng.uniform(-slack, slack), y + self.rng.uniform(-slack, slack))

    def fuse(self):
        return {"fuse_type": self.rng.choice(FUSES), "fuse_a": self.rng.choice(RATINGS)}

    def supply(self, name, at):
        rng = self.rng
        kind = rng.choice(["pillar", "pillar", "pillar", "section pillar", "service", "substation",
                           None])
        values = {"supply_id": name, "kind": kind, "earthing": rng.choice(EARTHINGS),
                  "phases": rng.choice([1, 1, 3]), "voltage_v": rng.choice([230, 230, 240, 0.1]),
                  "status": rng.choice(STATUSES + ["in service"] * 8),
                  "rcd_ma": rng.choice([None, None, 30, 300, 0]),
                  "electrode_ohm": rng.choice([None, 10, 250]), **self.fuse()}
        if rng.random() < 0.6:
            values.update(ze_ohm=rng.choice([0.02, 0.35, 0.8, 21, 300]),
                          ze_basis=rng.choice(["measured", "declared", "assumed"]))
        if rng.random() < 0.2:
            values.update(ze_r_ohm=0.1, ze_x_ohm=0.05)
        if rng.random() < 0.6:
            values.update(pscc_ka=rng.choice([0.2, 1.5, 6, 16, 40]), pscc3_ka=rng.choice([None, 20]),
                          pscc_basis=rng.choice(["measured", "declared", "assumed"]))
        if kind == "substation" or rng.random() < 0.2:
            values.update(transformer_kva=rng.choice([None, 315, 500]),
                          transformer_z_pct=rng.choice([None, 4, 4.75]),
                          transformer_r_pct=rng.choice([None, 1.1, 30]))
        self.add("supplies", "POINT", gp.point(*self.metres(at)), values)
        for way in range(rng.randrange(4)):
            self.add("ways", None, None,
                     {"supply_id": name, "way": str(way + 1),
                      "circuit": rng.choice([None, "a", "b", "c"]), "phase": rng.choice(PHASES),
                      "control": rng.choice(CONTROLS), "rcd_ma": rng.choice([None, 30, 0]),
                      "limit_s": rng.choice([None, 5, 0.4, 1e-6]), **self.fuse()})

    def column(self, name, at):
        rng = self.rng
        self.add("columns", "POINT", gp.point(*self.metres(at)),
                 {"column_id": name, "kind": rng.choice(["column", "sign", "bollard", "tree"]),
                  "road": "Quill Row", "area": rng.choice(["North", "South"]),
                  "owner": rng.choice(OWNERS), "feed": rng.choice(["main", "pillar", "column"]),
                  "circuit": rng.choice([None, "a", "b"]), "phase": rng.choice(PHASES),
                  "control": rng.choice(CONTROLS), "load_w": rng.choice([0, 20, 100, 600, 20000]),
                  "power_factor": rng.choice([0.9, 1, -0.95, 3]),
                  "fuse_breaking_ka": rng.choice([None, None, 1, 16, 80]),
                  "poles": rng.choice(["1", "2", "neutral fused", "unknown"]),
                  "rcd_ma": rng.choice([None, 30, 0]), "limit_s": rng.choice([None, 5, 0.4]),
                  "tail_type": rng.choice(["Flat twin and earth 1.5", "grey flex"]),
                  "tail_m": rng.choice([0, 6, 500]), "height_m": rng.choice([5, 8]),
                  "earthing": rng.choice([None, None] + EARTHINGS),
                  "electrode_ohm": rng.choice([None, 20, 500]),
                  "status": rng.choice(STATUSES + ["in service"] * 8), **self.fuse()})
        for _ in range(rng.choice([0, 0, 0, 1, 2])):
            self.add("loads", None, None,
                     {"column_id": name, "use": rng.choice(USES), "load_w": rng.choice([30, 3000]),
                      "power_factor": 0.9, "phase": rng.choice(PHASES),
                      "rcd_ma": rng.choice([None, 30, 0]), "limit_s": rng.choice([None, 0.4]),
                      **self.fuse()})

    def reading(self, name, layer):
        rng = self.rng
        self.add("readings", None, None,
                 {"asset_id": name, "asset_layer": rng.choice([None, layer, "columns"]),
                  "taken_on": rng.choice(["2024-03-01", "2025-11-30", "soon"]),
                  "taken_at": rng.choice(["cut-out", "lantern", "there"]),
                  "zs_ohm": rng.choice([None, 0.01, 0.6, 4, 60]), "ra_ohm": rng.choice([None, 80]),
                  "pscc_ka": rng.choice([None, 0.4, 9]), "conductor_c": rng.choice([None, 10, 60]),
                  "method": rng.choice(["high current", "no trip", "guess"])})

    def cable(self, number, a, b):
        rng = self.rng
        name = "K%02d" % number
        start, end = self.near(a), self.near(b)
        middle = []
        if rng.random() < 0.3:  # past other places, maybe through them
            middle = [self.near(self.place()) for _ in range(rng.randrange(1, 3))]
        points = [start] + middle + [end]
        kind, shape = "LINESTRING", gp.line(points)
        values = {"cable_id": name, "cable_type": rng.choice(CABLES),
                  "circuit": rng.choice([None, None, "a", "b", "c"]),
                  "length_m": rng.choice([None, 0.001, 20, 25, 400, 30000]),
                  "owner": rng.choice(OWNERS), "control": rng.choice(CONTROLS),
                  "status": rng.choice(STATUSES + ["in service"] * 8)}
        self.add("cables", kind, shape, values)
        self.cables.append((name, a, b))

    def main(self, number):
        rng = self.rng
        spots = list(self.places)
        parts = []
        for _ in range(rng.choice([1, 1, 2])):
            course = [rng.choice(spots) if rng.random() < 0.6 else self.place()
                      for _ in range(rng.randrange(2, 4))]
            self.taps += course  # cables end there too, with or without an asset
            parts.append([self.metres(at) for at in course])
        self.add("mains", "MULTILINESTRING", gp.lines(parts),
                 {"main_id": "M%d" % number, "cable_type": rng.choice(["Main CNE Al 185", CABLES[0]]),
                  "length_m": rng.choice([None, 60, 400]), "customers": rng.choice([None, 0, 40])})

    def terminations(self):
        rng = self.rng
        for name, a, b in self.cables:
            for at in (a, b):
                for layer, asset in self.places.get(at, []):
                    if rng.random() < 0.25:
                        self.add("terminations", None, None,
                                 {"asset_id": asset, "cable_id": name,
                                  "asset_layer": rng.choice([None, layer]),
                                  "state": rng.choice(["connected", "connected", "open"]),
                                  "side": rng.choice(["loop", "fused", "unknown"]),
                                  "earth": rng.choice(["bonded", "not bonded", "unknown"])})


def draw(rng):
    """A world as layers for geopackage.write()."""
    world = World(rng)
    world.layers["columns"] = ("POINT", [])
    world.layers["cables"] = ("LINESTRING", [])
    for i in range(rng.randrange(0, 4)):
        at = world.place()
        world.supply("P%d" % i, at)
        world.places.setdefault(at, []).append(("supplies", "P%d" % i))
    for i in range(rng.randrange(1, 10)):
        at = world.place()
        name = "C%d" % (i if rng.random() > 0.03 else 0)  # sometimes an id twice
        world.column(name, at)
        world.places.setdefault(at, []).append(("columns", name))
    for i in range(rng.randrange(0, 4)):
        at = world.place()
        world.add("joints", "POINT", gp.point(*world.metres(at)),
                  {"joint_id": "J%d" % i, "kind": rng.choice(["straight", "tee", "pot end", "fused",
                                                              "fused"]), **world.fuse()})
        world.places.setdefault(at, []).append(("joints", "J%d" % i))
    for i in range(rng.choice([0, 0, 1, 2])):
        world.main(i)
    spots = list(world.places) + world.taps
    for i in range(rng.randrange(1, 14)):
        a = rng.choice(spots)
        b = rng.choice(spots) if rng.random() < 0.9 else world.place()
        world.cable(i, a, b)
    world.terminations()
    for at, assets in world.places.items():
        for layer, name in assets:
            if layer != "joints" and rng.random() < 0.2:
                world.reading(name, layer)
    return world.layers

"""Layers of a made-up network as GeoJSON in a plane grid of metres."""
import json

CRS = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::27700"}}


class Layers:
    def __init__(self):
        self.features = {"columns": [], "cables": [], "supplies": []}

    def _add(self, layer, properties, kind, coordinates):
        self.features[layer].append({"type": "Feature", "properties": properties,
                                     "geometry": {"type": kind, "coordinates": coordinates}})

    def column(self, name, place):
        self._add("columns", {"column_id": name, "load_w": 30, "power_factor": 0.9,
                              "fuse_type": "BS 88-2", "fuse_a": 6, "tail_m": 6.0,
                              "tail_type": "Flat twin and earth 1.5", "owner": "council"},
                  "Point", place)

    def supply(self, name, place, ze_ohm, pscc_ka, fuse_a):
        self._add("supplies", {"supply_id": name, "kind": "pillar", "earthing": "TN-C-S",
                               "ze_ohm": ze_ohm, "pscc_ka": pscc_ka, "fuse_type": "BS 88-2",
                               "fuse_a": fuse_a}, "Point", place)

    def add(self, layer, geometry, **properties):
        """A row of any layer, with whatever is recorded: a point, or the points of a line."""
        self.features.setdefault(layer, [])
        kind = "LineString" if isinstance(geometry[0], (list, tuple)) else "Point"
        self._add(layer, properties, kind, list(geometry))

    def cable(self, name, ends, cable_type, length_m):
        self._add("cables", {"cable_id": name, "cable_type": cable_type, "length_m": length_m},
                  "LineString", list(ends))

    def write(self, folder, job):
        for name, features in self.features.items():
            with open(f"{folder}/{name}.geojson", "w", encoding="utf-8") as file:
                json.dump({"type": "FeatureCollection", "name": name, "crs": CRS,
                           "features": features}, file)
        with open(f"{folder}/job.toml", "w", encoding="utf-8") as file:
            file.write('[data]\ndataset = "records.gpkg"\n' + job)

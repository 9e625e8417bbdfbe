"""A closed loop as its page describes it, solved by nodal analysis: an independent way to its figures."""


def solve(matrix, right):
    """Gaussian elimination with pivots, complex."""
    n = len(right)
    rows = [list(matrix[i]) + [right[i]] for i in range(n)]
    for i in range(n):
        pivot = max(range(i, n), key=lambda r: abs(rows[r][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for r in range(i + 1, n):
            factor = rows[r][i] / rows[i][i]
            for c in range(i, n + 1):
                rows[r][c] -= factor * rows[i][c]
    result = [0j] * n
    for i in reversed(range(n)):
        known = sum(rows[i][c] * result[c] for c in range(i + 1, n))
        result[i] = (rows[i][n] - known) / rows[i][i]
    return result


class LoopModel:
    """sections: [(from, to)]; links: [(from, to, device)]; start: name of the terminal."""

    def __init__(self, start, sections, links):
        self.start, self.sections, self.links = start, sections, links

    def _groups(self, skip):
        """Name -> representative, links joined but those for which skip(device) holds."""
        up = {}

        def find(name):
            up.setdefault(name, name)
            while up[name] != name:
                name = up[name]
            return name

        for a, b, device in self.links:
            find(a), find(b)
            if not skip(device):
                up[find(a)] = find(b)
        for a, b in self.sections:
            find(a), find(b)
        find(self.start)
        return find

    def _volts(self, ohms, find, at):
        """Potentials with 1 A put in at `at` and taken out at the start; None where unconnected."""
        ground = find(self.start)
        reached, todo = {ground}, [ground]
        while todo:
            node = todo.pop()
            for a, b in self.sections:
                for x, y in ((find(a), find(b)), (find(b), find(a))):
                    if x == node and y not in reached:
                        reached.add(y)
                        todo.append(y)
        if find(at) not in reached:
            return None
        nodes = sorted(reached - {ground})
        index = {name: i for i, name in enumerate(nodes)}
        matrix = [[0j] * len(nodes) for _ in nodes]
        for (a, b), z in zip(self.sections, ohms):
            i, j = index.get(find(a)), index.get(find(b))
            if find(a) == find(b) or find(a) not in reached:
                continue
            for x, y in ((i, j), (j, i)):
                if x is not None:
                    matrix[x][x] += 1 / z
                    if y is not None:
                        matrix[x][y] -= 1 / z
        right = [0j] * len(nodes)
        if find(at) != ground:
            right[index[find(at)]] = 1
        volts = dict(zip(nodes, solve(matrix, right)))
        volts[ground] = 0j
        return volts

    def drive(self, ohms, at, opened=()):
        """Impedance from the start to a name; None if nothing leads there."""
        find = self._groups(lambda device: device in opened)
        volts = self._volts(ohms, find, at)
        return None if volts is None else volts[find(at)]

    def share(self, ohms, device, at, opened=()):
        """Size of a device's part of the current that is put in at a name."""
        if device not in [d for _, _, d in self.links]:
            return 1.0  # it stands before the loop: all of the current passes
        find = self._groups(lambda d: d in opened)
        volts = self._volts(ohms, find, at)
        total = 0j
        for number, (_, behind, d) in enumerate(self.links):
            if d != device:
                continue
            others = LoopModel(self.start, self.sections,
                               [l for n, l in enumerate(self.links) if n != number])
            side = others._groups(lambda o: o in opened)
            inside = lambda name: side(name) == side(behind)
            current = 1 + 0j if inside(at) else 0j
            for (a, b), z in zip(self.sections, ohms):
                if inside(a) != inside(b):
                    a, b = (a, b) if inside(a) else (b, a)
                    current -= (volts[find(a)] - volts[find(b)]) / z
            total += current
        return abs(total)

#!/usr/bin/env python3
"""Reference posteriors for discrete Bayesian networks, from two public libraries.

Everything here is independent of the Rust code under test.  The networks come
from the gzipped BIF files packaged with pgmpy; the answers come from pyagrum
(`LazyPropagation`) and pgmpy (`VariableElimination`), and, where pgmpy cannot
be used, from a small variable elimination on numpy arrays written below.

    generate.py --write | --check [--only NAME ...]
    generate.py network NETWORK.json EVIDENCE.json
    generate.py cases DIR --write | --check
    generate.py bench NETWORK.json EVIDENCE.json [--repeat N] [--target VAR]

README.md in this directory describes the formats and the known traps.

Note on the published tables: a row is stored exactly as printed unless its sum
misses 1 by more than ROW_SUM_TOLERANCE.  Such rows (alarm, barley, hepar2,
insurance, sachs, water; both modes print how many) are divided by their sum.
Left as they are, "the" answer would depend on which variables an engine prunes
before it starts, and no two engines could agree to 1e-10.
"""

from __future__ import annotations

import argparse
import gzip
import json
import math
import random
import re
import statistics
import sys
import time
import warnings
from importlib.util import find_spec
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
NETWORK_DIR = HERE / "networks"
FIXTURE_DIR = HERE / "fixtures"

NETWORKS = [
    "alarm",
    "andes",
    "asia",
    "barley",
    "cancer",
    "child",
    "earthquake",
    "hailfinder",
    "hepar2",
    "insurance",
    "sachs",
    "water",
    "win95pts",
]
# Written as a network only: it serves to test that an oversize one is refused.
WITHOUT_FIXTURE = {"barley"}
# Two evidence cases instead of four.
FEW_CASES = {"andes", "water"}

# Largest relative difference accepted between any two answers.
TOLERANCE = 1e-10
# Denominators below this count as this; every smaller difference is nil.
FLOOR = 1e-300
ROW_SUM_TOLERANCE = 1e-12
# `--write` leaves a stored record alone when the new one agrees this well.  Both
# libraries add in an order that changes from run to run, and so do the last bits.
UNCHANGED = 1e-12
# Below this log P(e) a double may have underflowed on the way.
DEEP = -200.0
# Threads for pyagrum; pgmpy has no such setting.
THREADS = 1

# Answers known from outside the two libraries, checked on every run.
LAURITZEN_SPIEGELHALTER = {
    "tub": 0.08775,
    "smoke": 0.62592,
    "lung": 0.09953,
    "bronc": 0.81140,
    "either": 0.18230,
    "xray": 0.21954,
}
RUSSELL_NORVIG = 0.2841718353643929


class Impossible(Exception):
    """The evidence has probability zero (or so the engine says)."""


class Failed(Exception):
    """A check that did not hold."""


# --------------------------------------------------------------------------
# Networks in the plain JSON format
# --------------------------------------------------------------------------


class Variable:
    def __init__(self, name, states, parents, table):
        self.name = name
        self.states = list(states)
        self.parents = list(parents)
        self.table = [float(p) for p in table]


class Network:
    """A network; `table` has the first parent slowest and the own state fastest."""

    def __init__(self, name, variables):
        self.name = name
        self.variables = list(variables)
        self.by_name = {v.name: v for v in self.variables}
        if len(self.by_name) != len(self.variables):
            raise Failed(f"{name}: two variables share a name")
        for v in self.variables:
            if len(set(v.states)) != len(v.states):
                raise Failed(f"{name}: {v.name} repeats a state name")
            for parent in v.parents:
                if parent not in self.by_name:
                    raise Failed(f"{name}: {v.name} has the unknown parent {parent}")
            size = math.prod(self.shape(v))
            if len(v.table) != size:
                raise Failed(f"{name}: {v.name} needs {size} numbers, has {len(v.table)}")
        self.order = self._topological_order()

    def _topological_order(self):
        order, placed = [], set()
        waiting = list(self.variables)
        while waiting:
            ready = [v for v in waiting if placed.issuperset(v.parents)]
            if not ready:
                raise Failed(f"{self.name}: the parents form a cycle")
            order.extend(ready)
            placed.update(v.name for v in ready)
            waiting = [v for v in waiting if v.name not in placed]
        return order

    def card(self, name):
        return len(self.by_name[name].states)

    def shape(self, v):
        return [self.card(p) for p in v.parents] + [len(v.states)]

    def array(self, v):
        """The table as an array whose axes are the parents and then the variable."""
        return np.array(v.table, dtype=float).reshape(self.shape(v))

    def joint(self, assignment):
        """Probability of one full assignment {variable: state}, by the chain rule."""
        p = 1.0
        for v in self.variables:
            at = 0
            for name in v.parents + [v.name]:
                at = at * self.card(name) + self.by_name[name].states.index(assignment[name])
            p *= v.table[at]
        return p

    def sample(self, rng):
        """One full assignment, sampled forward; it always has a positive probability."""
        assignment = {}
        for v in self.order:
            at = 0
            for p in v.parents:
                at = at * self.card(p) + self.by_name[p].states.index(assignment[p])
            row = v.table[at * len(v.states) : (at + 1) * len(v.states)]
            u, cumulative = rng.random() * math.fsum(row), 0.0
            chosen = max(i for i, p in enumerate(row) if p > 0.0)
            for i, p in enumerate(row):
                cumulative += p
                if p > 0.0 and u < cumulative:
                    chosen = i
                    break
            assignment[v.name] = v.states[chosen]
        return assignment

    def dumps(self):
        lines = [
            dumps({"name": v.name, "states": v.states, "parents": v.parents, "table": v.table})
            for v in self.variables
        ]
        return f'{{"name":{dumps(self.name)},"variables":[\n' + ",\n".join(lines) + "\n]}\n"

    @classmethod
    def loads(cls, text):
        data = json.loads(text)
        return cls(
            data["name"],
            [
                Variable(v["name"], v["states"], v.get("parents", []), v["table"])
                for v in data["variables"]
            ],
        )


def dumps(value):
    """Compact JSON; Python prints each float so that it reads back unchanged."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def read_evidence(data, network):
    """Checks an evidence object and returns it as (hard, soft)."""
    extra = set(data) - {"hard", "soft"}
    if extra:
        raise Failed(f"{network.name}: unknown evidence keys {sorted(extra)}")
    hard, soft = dict(data.get("hard", {})), dict(data.get("soft", {}))
    for name in [*hard, *soft]:
        if name not in network.by_name:
            raise Failed(f"{network.name}: evidence on the unknown variable {name}")
    if set(hard) & set(soft):
        raise Failed(f"{network.name}: both hard and soft: {sorted(set(hard) & set(soft))}")
    for name, state in hard.items():
        if state not in network.by_name[name].states:
            raise Failed(f"{network.name}: {name} has no state {state!r}")
    for name, likelihood in soft.items():
        if len(likelihood) != network.card(name):
            raise Failed(f"{network.name}: {name} needs {network.card(name)} likelihoods")
        if not all(math.isfinite(x) and x >= 0 for x in likelihood):
            raise Failed(f"{network.name}: {name} has a likelihood that is not a finite x >= 0")
    return hard, soft


def scaled(soft):
    """Likelihood vectors scaled to a maximum of 1, and the log of what was taken out.

    Engines then see no likelihood above 1 (pgmpy stores 1 - x beside x), and a
    vector with a single positive entry, which pyagrum takes for a hard finding
    and whose size it would forget, has that entry at 1.
    """
    vectors, log_scale = {}, 0.0
    for name, likelihood in soft.items():
        top = max(likelihood)
        if top <= 0.0:
            raise Impossible(f"{name} has likelihoods that are all zero")
        vectors[name] = [x / top for x in likelihood]
        log_scale += math.log(top)
    return vectors, log_scale


# --------------------------------------------------------------------------
# The published networks: BIF files packaged with pgmpy
# --------------------------------------------------------------------------


def packaged_bif(name):
    # Found without importing pgmpy.  Its own readers are not used: they would
    # make the tables depend on the code that is asked for the answers.
    package = Path(next(iter(find_spec("pgmpy").submodule_search_locations)))
    path = package / "utils" / "example_models" / f"{name}.bif.gz"
    return gzip.decompress(path.read_bytes()).decode("utf-8")


def parse_bif(name, text):
    """Reads the subset of BIF that the bnlearn repository uses.

    Returns the network and, per variable, how many rows were renormalised.
    """
    states = {}
    declaration = re.compile(
        r"^variable\s+(\S+)\s*\{\s*type\s+discrete\s*\[\s*(\d+)\s*\]\s*\{([^}]*)\};\s*\}", re.M
    )
    for found in declaration.finditer(text):
        labels = [s.strip() for s in found[3].split(",")]
        if len(labels) != int(found[2]):
            raise Failed(f"{name}: {found[1]} does not have {found[2]} states")
        states[found[1]] = labels

    tables, parents = {}, {}
    block = re.compile(r"^probability\s*\(\s*([^)]*?)\s*\)\s*\{(.*?)^\}", re.M | re.S)
    for found in block.finditer(text):
        head = found[1].split("|")
        child = head[0].strip()
        above = [p.strip() for p in head[1].split(",")] if len(head) > 1 else []
        rows = {}
        for line in found[2].strip().splitlines():
            row = re.fullmatch(r"\s*(?:table|\(([^)]*)\))\s+(.*);\s*", line)
            if row is None:
                raise Failed(f"{name}: cannot read {line!r}")
            key = tuple(s.strip() for s in row[1].split(",")) if row[1] else ()
            if key in rows:
                raise Failed(f"{name}: {child} has two rows for {key}")
            rows[key] = [float(x) for x in row[2].split(",")]
        keys = [()]
        for parent in above:
            keys = [(*key, s) for key in keys for s in states[parent]]
        if set(keys) != set(rows):
            raise Failed(f"{name}: {child} lacks rows or has unknown ones")
        parents[child] = above
        tables[child] = [rows[key] for key in keys]

    if set(tables) != set(states) or len(states) != len(re.findall(r"^variable\b", text, re.M)):
        raise Failed(f"{name}: variables and tables do not match")

    repaired, variables = {}, []
    for child, labels in states.items():
        flat = []
        for row in tables[child]:
            total = math.fsum(row)
            if abs(total - 1.0) > ROW_SUM_TOLERANCE:
                row = [p / total for p in row]
                count, worst = repaired.get(child, (0, 0.0))
                repaired[child] = (count + 1, max(worst, abs(total - 1.0)))
            flat.extend(row)
        variables.append(Variable(child, labels, parents[child], flat))
    return Network(name, variables), repaired


def published(name):
    return parse_bif(name, packaged_bif(name))


# --------------------------------------------------------------------------
# Evidence cases
# --------------------------------------------------------------------------


def evidence_cases(network):
    """Deterministic evidence cases, each of positive probability."""
    rng = random.Random(f"oddment reference evidence: {network.name}")
    names = [v.name for v in network.variables]
    n = len(names)

    def hard_case(count):
        world = network.sample(rng)
        chosen = rng.sample(names, count)
        return {"hard": {v: world[v] for v in names if v in chosen}, "soft": {}}

    def mixed_case(hard_count, soft_count):
        world = network.sample(rng)
        chosen = rng.sample(names, hard_count + soft_count)
        hard = {v: world[v] for v in names if v in chosen[:hard_count]}
        soft = {}
        for v in names:
            if v not in chosen[hard_count:]:
                continue
            states = network.by_name[v].states
            vector = [rng.randint(1, 20) / 20 for _ in states]
            others = [i for i, s in enumerate(states) if s != world[v]]
            if len(others) > 1 and rng.random() < 0.5:
                vector[rng.choice(others)] = 0.0
            soft[v] = vector
        return {"hard": hard, "soft": soft}

    cases = [{"hard": {}, "soft": {}}]
    if network.name in FEW_CASES:
        cases.append(mixed_case(5, 3))
    else:
        cases.append(hard_case(min(3, n - 2)))
        cases.append(hard_case(min(8, n - 2)))
        cases.append(mixed_case(min(4, n - 4), min(3, n - 3)))
    return cases


# --------------------------------------------------------------------------
# Engines.  Each has `run(evidence) -> (log P(e), {variable: posterior})`, with
# the posterior of every variable that has no hard finding.
# --------------------------------------------------------------------------


class PyagrumEngine:
    """Lazy propagation in a join tree."""

    name = "pyagrum"

    def __init__(self, network):
        import pyagrum as gum

        self.gum = gum
        self.network = network
        gum.setNumberOfThreads(THREADS)
        bn = gum.BayesNet()
        self.ids = {
            v.name: bn.add(gum.LabelizedVariable(v.name, "", v.states)) for v in network.variables
        }
        for v in network.variables:
            for p in v.parents:
                bn.addArc(self.ids[p], self.ids[v.name])
        for v in network.variables:
            cpt = bn.cpt(self.ids[v.name])
            # As an array, a tensor has its axes in the reverse order of its names.
            own = v.parents + [v.name]
            axes = [own.index(name) for name in reversed(cpt.names)]
            cpt[:] = np.ascontiguousarray(np.transpose(network.array(v), axes))
        self.bn = bn
        self._verify()
        self.inference = gum.LazyPropagation(bn)

    def _verify(self):
        """Spot-checks the tables cell by cell, each addressed by state names."""
        rng = random.Random(0)
        for v in self.network.variables:
            cpt = self.bn.cpt(self.ids[v.name])
            own = v.parents + [v.name]
            for _ in range(8):
                cell = {name: rng.choice(self.network.by_name[name].states) for name in own}
                at = 0
                inst = self.gum.Instantiation(cpt)
                for name in own:
                    i = self.network.by_name[name].states.index(cell[name])
                    at = at * self.network.card(name) + i
                    inst.chgVal(self.bn.variable(self.ids[name]), i)
                if cpt.get(inst) != v.table[at]:
                    raise Failed(f"{self.network.name}: pyagrum table of {v.name} is misplaced")

    def joint(self, assignment):
        inst = self.bn.completeInstantiation()
        for name, state in assignment.items():
            inst.chgVal(
                self.bn.variable(self.ids[name]), self.network.by_name[name].states.index(state)
            )
        return self.bn.jointProbability(inst)

    def index_evidence(self, evidence):
        """Evidence by variable id, hard findings as state numbers; and the log scale."""
        hard, soft = read_evidence(evidence, self.network)
        vectors, log_scale = scaled(soft)
        items = {self.ids[n]: self.network.by_name[n].states.index(s) for n, s in hard.items()}
        items.update({self.ids[n]: vector for n, vector in vectors.items()})
        return items, log_scale

    def run(self, evidence):
        items, log_scale = self.index_evidence(evidence)
        inference = self.inference
        # The evidence is always set anew: a changed table or finding may
        # otherwise leave the old answer in place.
        inference.eraseAllEvidence()
        for variable, finding in items.items():
            inference.addEvidence(variable, finding)
        try:
            inference.makeInference()
            p = inference.evidenceProbability()
        except self.gum.IncompatibleEvidence as error:
            raise Impossible(str(error)) from error
        if not p > 0.0:
            raise Impossible("probability 0")
        marginals = {}
        for v in self.network.variables:
            if v.name in evidence.get("hard", {}):
                continue
            posterior = inference.posterior(self.ids[v.name])
            marginals[v.name] = [float(x) for x in posterior.toarray()]
        return math.log(p) + log_scale, marginals


class PgmpyEngine:
    """Variable elimination by tensor contraction, one query for each variable.

    Its BeliefPropagation is not used: it stops once neighbouring beliefs differ by
    less than 1e-8, an absolute bound, so that small beliefs need not have settled.
    """

    name = "pgmpy"

    def __init__(self, network):
        warnings.filterwarnings("ignore", category=FutureWarning)
        import logging

        logging.getLogger("pgmpy").setLevel(logging.ERROR)
        from pgmpy.factors.discrete import TabularCPD
        from pgmpy.inference import VariableElimination
        from pgmpy.models import DiscreteBayesianNetwork

        self.cpd_class = TabularCPD
        self.elimination_class = VariableElimination
        self.network = network
        model = DiscreteBayesianNetwork()
        model.add_nodes_from([v.name for v in network.variables])
        for v in network.variables:
            for p in v.parents:
                model.add_edge(p, v.name)
        for v in network.variables:
            columns = network.array(v).reshape(-1, len(v.states)).T
            model.add_cpds(
                TabularCPD(
                    v.name,
                    len(v.states),
                    columns,
                    evidence=v.parents or None,
                    evidence_card=[network.card(p) for p in v.parents] or None,
                    state_names={n: network.by_name[n].states for n in [*v.parents, v.name]},
                )
            )
        self.model = model

    def prepare(self, evidence):
        """Two engines (conditional and unnormalised), their findings, the log scale.

        A soft finding is a binary child observed in its first state, which is
        what pgmpy itself does with `virtual_evidence`; done here by hand since
        it changes the engine for good, and a second query would stumble on it.
        """
        hard, soft = read_evidence(evidence, self.network)
        vectors, log_scale = scaled(soft)
        model = self.model.copy()
        findings = dict(hard)
        for name, vector in vectors.items():
            child = f"__{name}"
            while child in model.nodes():
                child = f"_{child}"
            model.add_edge(name, child)
            model.add_cpds(
                self.cpd_class(
                    child,
                    2,
                    [vector, [1.0 - x for x in vector]],
                    evidence=[name],
                    evidence_card=[len(vector)],
                    state_names={child: ["seen", "unseen"], name: self.network.by_name[name].states},
                )
            )
            findings[child] = "seen"
        conditional = self.elimination_class(model)
        # A Markov network's answers are left unnormalised: they sum to P(e).
        unnormalised = self.elimination_class(model.to_markov_model())
        return conditional, unnormalised, findings, log_scale

    def one(self, inference, name, findings):
        """The answer for one variable, in the order of its own states."""
        factor = inference.query([name], evidence=findings, show_progress=False)
        values = dict(zip(factor.state_names[name], (float(x) for x in factor.values), strict=True))
        return [values[s] for s in self.network.by_name[name].states]

    def run(self, evidence):
        conditional, unnormalised, findings, log_scale = self.prepare(evidence)
        free = [v.name for v in self.network.variables if v.name not in evidence.get("hard", {})]
        p = self.probability(unnormalised, findings, free)
        if not p > 0.0:
            raise Impossible("probability 0")
        marginals = {}
        for name in free:
            marginals[name] = self.one(conditional, name, findings)
            if any(math.isnan(x) for x in marginals[name]):
                raise Impossible(f"the posterior of {name} is not a number")
        return math.log(p) + log_scale, marginals

    def probability(self, unnormalised, findings, free):
        if not free:
            return float(self.model.get_state_probability(findings))
        return sum(self.one(unnormalised, free[0], findings))


class EinsumEngine:
    """Variable elimination on numpy arrays.

    Each array is scaled by a power of two, which is exact, before it is multiplied.
    """

    name = "einsum"

    def __init__(self, network):
        self.network = network
        self.arrays = {v.name: network.array(v) for v in network.variables}

    def run(self, evidence):
        hard, soft = read_evidence(evidence, self.network)
        vectors, _ = scaled(soft)
        log_p_e = self.log_probability(evidence)
        marginals = {}
        for v in self.network.variables:
            if v.name not in hard:
                _, marginals[v.name] = self._eliminate(hard, vectors, v.name)
        return log_p_e, marginals

    def log_probability(self, evidence):
        hard, soft = read_evidence(evidence, self.network)
        vectors, log_scale = scaled(soft)
        return self._eliminate(hard, vectors, None)[0] + log_scale

    def _eliminate(self, hard, vectors, target):
        number = {v.name: i for i, v in enumerate(self.network.variables)}
        needed = set()
        stack = [*hard, *vectors, *([target] if target else [])]
        while stack:
            name = stack.pop()
            if name not in needed:
                needed.add(name)
                stack.extend(self.network.by_name[name].parents)

        factors = []
        for v in self.network.variables:
            if v.name not in needed:
                continue
            scope = v.parents + [v.name]
            index = tuple(
                self.network.by_name[n].states.index(hard[n]) if n in hard else slice(None)
                for n in scope
            )
            rest = [number[n] for n in scope if n not in hard]
            factors.append((rest, self.arrays[v.name][index]))
        factors.extend(([number[n]], np.array(vector)) for n, vector in vectors.items())

        exponent = 0
        size = {number[v.name]: len(v.states) for v in self.network.variables}
        waiting = {number[n] for n in needed if n not in hard and n != target}
        cost = {}
        while waiting:
            for x in waiting:
                if x not in cost:
                    scope = set().union(*(s for s, _ in factors if x in s))
                    cost[x] = (math.prod(size[y] for y in scope), x)
            best = min(waiting, key=lambda x: cost[x])
            scope, product, power = self._product([f for f in factors if best in f[0]])
            exponent += power
            factors = [f for f in factors if best not in f[0]]
            product = product.sum(axis=scope.index(best))
            for y in scope:
                cost.pop(y, None)
            scope.remove(best)
            factors.append((scope, product))
            waiting.remove(best)

        _, product, power = self._product(factors)
        exponent += power
        total = float(product.sum())
        if not total > 0.0:
            raise Impossible("probability 0")
        posterior = [float(x) for x in np.atleast_1d(product) / total] if target else None
        return math.log(total) + exponent * math.log(2.0), posterior

    @staticmethod
    def _product(factors):
        scope, product, exponent = [], np.array(1.0), 0
        for other, array in sorted(factors, key=lambda f: f[1].size):
            top = array.max()
            if not top > 0.0:
                raise Impossible("probability 0")
            _, power = math.frexp(top)
            array = np.ldexp(array, -power)
            exponent += power
            union = scope + [x for x in other if x not in scope]
            local = {x: i for i, x in enumerate(union)}
            product = np.einsum(
                product, [local[x] for x in scope], array, [local[x] for x in other],
                list(range(len(union))),
            )
            scope = union
        return scope, product, exponent


ENGINES = {e.name: e for e in (PyagrumEngine, PgmpyEngine, EinsumEngine)}


# --------------------------------------------------------------------------
# Records and comparisons
# --------------------------------------------------------------------------


def relative(a, b):
    return abs(a - b) / max(abs(a), abs(b), FLOOR)


def differences(one, other):
    """Yields (what, difference) for two (log P(e), marginals) answers.

    For log P(e) the difference of the logs is taken, which is the relative
    difference of P(e) itself; a relative difference of the logs would blow up
    where P(e) is 1.
    """
    yield "log_p_e", abs(one[0] - other[0])
    if set(one[1]) != set(other[1]):
        raise Failed(f"marginals of different variables: {sorted(set(one[1]) ^ set(other[1]))}")
    for name, values in one[1].items():
        if len(values) != len(other[1][name]):
            raise Failed(f"{name}: different numbers of states")
        yield name, max(relative(a, b) for a, b in zip(values, other[1][name], strict=True))


def require_close(label, one, other):
    """The largest difference; raises Failed with the place of any above TOLERANCE."""
    worst = 0.0
    for what, difference in differences(one, other):
        if not difference <= TOLERANCE:
            raise Failed(f"{label}, {what}: relative difference {difference:.3g}")
        worst = max(worst, difference)
    return worst


class Solver:
    """Runs the first two engines that can answer."""

    def __init__(self, network, preferred=("pyagrum", "pgmpy")):
        self.network = network
        self.preferred = list(preferred)
        self.ready = {}

    def engine(self, name):
        if name not in self.ready:
            self.ready[name] = ENGINES[name](self.network)
        return self.ready[name]

    def answers(self, evidence):
        """{engine: answer} of two engines; an answer is None for impossible evidence."""
        found, impossible = {}, {}
        for name in dict.fromkeys([*self.preferred, *ENGINES]):
            try:
                found[name] = self.engine(name).run(evidence)
            except Impossible as error:
                impossible[name] = str(error)
            if len(found) == 2:
                return self.deep(evidence, found)
        if found:
            # The library calls evidence impossible whose probability merely underflows.
            raise Failed(f"only {[*found]} could answer: {impossible}")
        return dict.fromkeys(list(impossible)[:2])

    def deep(self, evidence, found):
        """Holds answers to very improbable evidence to the scaled elimination as well.

        Where the mass of some states underflows and that of others does not, both
        libraries give the former a posterior of exactly 0, and so agree on it.
        """
        if "einsum" in found or min(p for p, _ in found.values()) > DEEP:
            return found
        scaled_answer = self.engine("einsum").run(evidence)
        for name, answer in found.items():
            if max(d for _, d in differences(answer, scaled_answer)) <= TOLERANCE:
                return {name: answer, "einsum": scaled_answer}
        raise Failed(f"{self.network.name}: the evidence is too improbable for {[*found]}")

    def record(self, label, evidence):
        answers = self.answers(evidence)
        names = list(answers)
        first, second = (answers[n] for n in names)
        if first is None:
            return {
                "evidence": evidence, "impossible": True, "log_p_e": None, "marginals": None,
                "agreement": 0.0, "engines": names,
            }
        return {
            "evidence": evidence,
            "log_p_e": first[0],
            "marginals": first[1],
            "agreement": require_close(f"{label}, {names[0]} against {names[1]}", first, second),
            "engines": names,
        }

    def check(self, label, stored):
        """Recomputes a stored record and compares; returns the largest difference."""
        answers = self.answers(stored["evidence"])
        if list(answers) != stored["engines"]:
            raise Failed(f"{label}: answered by {[*answers]}, stored from {stored['engines']}")
        if (stored["log_p_e"] is None) != (None in answers.values()):
            raise Failed(f"{label}: possible in one of stored and recomputed, not in the other")
        if stored["log_p_e"] is None:
            return 0.0
        kept = (stored["log_p_e"], stored["marginals"])
        worst = 0.0
        for name, answer in answers.items():
            worst = max(worst, require_close(f"{label}, {name} against stored", answer, kept))
        first, second = answers.values()
        return max(worst, require_close(f"{label}, {' against '.join(answers)}", first, second))


def fixture_text(records):
    """One evidence case a line."""
    return "[\n" + ",\n".join(dumps(r) for r in records) + "\n]\n"


def settled(records, path):
    """The records, each replaced by the stored one where the two agree closely."""
    if not path.is_file():
        return records
    stored = json.loads(path.read_text(encoding="utf-8"))
    stored = stored if isinstance(stored, list) else [stored]

    def same(new, old):
        if any(new[k] != old.get(k) for k in ("evidence", "engines")) or old["agreement"] > TOLERANCE:
            return False
        if None in (new["log_p_e"], old["log_p_e"]):
            return new["log_p_e"] == old["log_p_e"]
        pair = [(r["log_p_e"], r["marginals"]) for r in (new, old)]
        try:
            return max(d for _, d in differences(*pair)) <= UNCHANGED
        except Failed:
            return False

    return [
        stored[i] if i < len(stored) and same(new, stored[i]) else new
        for i, new in enumerate(records)
    ]


def verify_joint(solver):
    """Compares pyagrum's network with the tables through sampled full assignments."""
    rng = random.Random(1)
    for _ in range(5):
        world = solver.network.sample(rng)
        by_hand = solver.network.joint(world)
        by_library = solver.engine("pyagrum").joint(world)
        if relative(by_hand, by_library) > TOLERANCE:
            raise Failed(f"{solver.network.name}: joint probability {by_library}, not {by_hand}")


def verify_published_answers():
    """Holds all three engines to two answers that are in print."""
    asia, _ = published("asia")
    seen = {"hard": {"asia": "yes", "dysp": "yes"}, "soft": {}}
    alarm, _ = published("earthquake")
    # Russell and Norvig's burglary network is this one with rarer causes.
    tables = {"Burglary": [0.001, 0.999], "Earthquake": [0.002, 0.998]}
    burglary = Network(
        "burglary",
        [Variable(v.name, v.states, v.parents, tables.get(v.name, v.table)) for v in alarm.variables],
    )
    calls = {"hard": {"JohnCalls": "True", "MaryCalls": "True"}, "soft": {}}
    for name, engine in ENGINES.items():
        log_p_e, marginals = engine(asia).run(seen)
        if abs(math.exp(log_p_e) - 0.004501) > 5e-7:
            raise Failed(f"asia by {name}: P(e) is {math.exp(log_p_e)}")
        for variable, expected in LAURITZEN_SPIEGELHALTER.items():
            p = marginals[variable][asia.by_name[variable].states.index("yes")]
            if abs(p - expected) > 6e-6:
                raise Failed(f"asia by {name}: P({variable}) is {p}, published {expected}")
        p = engine(burglary).run(calls)[1]["Burglary"][0]
        if relative(p, RUSSELL_NORVIG) > 1e-12:
            raise Failed(f"burglary by {name}: {p}, not {RUSSELL_NORVIG}")


# --------------------------------------------------------------------------
# Commands
# --------------------------------------------------------------------------


def same_text(path, text):
    return path.is_file() and path.read_text(encoding="utf-8") == text


def command_published(write, only):
    unknown = set(only) - set(NETWORKS)
    if unknown:
        raise Failed(f"unknown networks {sorted(unknown)}; known are {NETWORKS}")
    verify_published_answers()
    print("published answers (asia, burglary): hold in all engines")
    failures = []
    for name in only or NETWORKS:
        start = time.perf_counter()
        try:
            summary = one_published(name, write)
        except Failed as error:
            failures.append(str(error))
            summary = f"{name}: FAILED"
        print(f"{summary} ({time.perf_counter() - start:.1f} s)", flush=True)
    if failures:
        raise Failed("\n".join(failures))


def one_published(name, write):
    network, repaired = published(name)
    path = NETWORK_DIR / f"{name}.json"
    text = network.dumps()
    if Network.loads(text).dumps() != text:
        raise Failed(f"{name}: the JSON does not read back unchanged")
    if write:
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    elif not same_text(path, text):
        raise Failed(f"{name}: networks/{name}.json differs from the published network")
    rows = sum(count for count, _ in repaired.values())
    worst_row = max((worst for _, worst in repaired.values()), default=0.0)
    summary = f"{name}: {len(network.variables)} variables"
    if rows:
        summary += f", {rows} rows renormalised (worst sum misses 1 by {worst_row:.2g})"
    if name in WITHOUT_FIXTURE:
        return summary + ", no fixture"

    # Answers are computed from the file as it is stored.
    solver = Solver(Network.loads(path.read_text(encoding="utf-8")))
    verify_joint(solver)
    cases = evidence_cases(network)
    path = FIXTURE_DIR / f"{name}.json"
    if write:
        records = [solver.record(f"{name}, case {i}", case) for i, case in enumerate(cases)]
        path.parent.mkdir(exist_ok=True)
        path.write_text(fixture_text(settled(records, path)), encoding="utf-8")
        worst = max(r["agreement"] for r in records)
        engines = records[0]["engines"]
    else:
        if not path.is_file():
            raise Failed(f"{name}: fixtures/{name}.json is missing")
        records = json.loads(path.read_text(encoding="utf-8"))
        if [r["evidence"] for r in records] != cases:
            raise Failed(f"{name}: fixtures/{name}.json has other evidence cases")
        worst = max(solver.check(f"{name}, case {i}", r) for i, r in enumerate(records))
        engines = records[0]["engines"]
    return summary + f", {len(cases)} cases, {' and '.join(engines)} within {worst:.2g}"


def load_pair(network_path, evidence_path):
    network = Network.loads(Path(network_path).read_text(encoding="utf-8"))
    evidence = json.loads(Path(evidence_path).read_text(encoding="utf-8"))
    read_evidence(evidence, network)
    return network, evidence


def command_network(network_path, evidence_path):
    network, evidence = load_pair(network_path, evidence_path)
    result = {"network": network.name}
    answers = []
    for name in ("pyagrum", "pgmpy"):
        try:
            log_p_e, marginals = ENGINES[name](network).run(evidence)
            answers.append((log_p_e, marginals))
            result[name] = {"log_p_e": log_p_e, "marginals": marginals}
        except Impossible as error:
            result[name] = {"impossible": str(error)}
    if len(answers) == 2:
        result["agreement"] = max(d for _, d in differences(*answers))
    print(json.dumps(result, ensure_ascii=False, allow_nan=False, indent=1))


def command_cases(directory, write):
    suffix = ".network.json"
    networks = sorted(Path(directory).glob(f"*{suffix}"))
    if not networks:
        raise Failed(f"{directory}: no file *{suffix}")
    failures = []
    for network_path in networks:
        label = network_path.name.removesuffix(suffix)
        evidence_path = network_path.with_name(f"{label}.evidence.json")
        expected_path = network_path.with_name(f"{label}.expected.json")
        start = time.perf_counter()
        try:
            if not evidence_path.is_file():
                raise Failed(f"{label}: {evidence_path.name} is missing")
            network, evidence = load_pair(network_path, evidence_path)
            solver = Solver(network)
            verify_joint(solver)
            if write:
                record = solver.record(label, evidence)
                kept = settled([record], expected_path)[0]
                expected_path.write_text(dumps(kept) + "\n", encoding="utf-8")
                worst = record["agreement"]
            else:
                if not expected_path.is_file():
                    raise Failed(f"{label}: {expected_path.name} is missing")
                record = json.loads(expected_path.read_text(encoding="utf-8"))
                if record["evidence"] != evidence:
                    raise Failed(f"{label}: {expected_path.name} answers other evidence")
                worst = solver.check(label, record)
            summary = f"{label}: {' and '.join(record['engines'])} within {worst:.2g}"
        except Failed as error:
            failures.append(str(error))
            summary = f"{label}: FAILED"
        print(f"{summary} ({time.perf_counter() - start:.1f} s)", flush=True)
    if failures:
        raise Failed("\n".join(failures))


def alternative(network, evidence, possible):
    """Other findings on the same variables, possible too, to change to and back."""
    hard = dict(evidence.get("hard", {}))
    for name in list(hard):
        for state in network.by_name[name].states:
            trial = {"hard": {**hard, name: state}, "soft": {}}
            if state != evidence["hard"][name] and possible(trial):
                hard = trial["hard"]
                break
    soft = {}
    for name, vector in evidence.get("soft", {}).items():
        # Zeros stay where they are; everything else moves a little.
        soft[name] = [x * (0.9 if i % 2 else 0.8) for i, x in enumerate(vector)]
    changed = {"hard": hard, "soft": soft}
    if not possible(changed):
        changed = {"hard": dict(evidence.get("hard", {})), "soft": soft}
    return changed


def command_bench(network_path, evidence_path, repeat, target):
    network, evidence = load_pair(network_path, evidence_path)
    hard = evidence.get("hard", {})
    free = [v.name for v in network.variables if v.name not in hard]
    target = target or free[0]
    if target not in free:
        raise Failed(f"{target} is unknown or has a hard finding")
    einsum = EinsumEngine(network)

    def possible(trial):
        try:
            einsum.log_probability(trial)
        except Impossible:
            return False
        return True

    if not possible(evidence):
        raise Failed("the evidence is impossible")
    other = alternative(network, evidence, possible)
    result = {
        "network": network.name,
        "variables": len(network.variables),
        "hard": len(hard),
        "soft": len(evidence.get("soft", {})),
        "repeat": repeat,
        "target": target,
        "threads": THREADS,
    }
    # With no evidence there is nothing to change: a constant likelihood on the
    # target, away from it and back, makes the library compute again.
    if not hard and not evidence.get("soft"):
        ones = [1.0] * network.card(target)
        evidence = {"hard": {}, "soft": {target: ones}}
        other = {"hard": {}, "soft": {target: [0.5, *ones[1:]]}}
    result["pyagrum"] = bench_pyagrum(PyagrumEngine(network), evidence, other, free, target, repeat)
    result["pgmpy"] = bench_pgmpy(PgmpyEngine(network), evidence, free, target, repeat)
    print(json.dumps(result, ensure_ascii=False, indent=1))


def median_ms(repeat, before, work):
    """Median milliseconds of `work`, each time after an uncounted `before`; one run to warm up."""
    times = []
    for _ in range(repeat + 1):
        before()
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1e3)
    return statistics.median(times[1:])


def bench_pyagrum(engine, evidence, other, free, target, repeat):
    """Changes the findings, computes, changes them back (counted) and computes (counted)."""
    here = engine.index_evidence(evidence)[0]
    away = engine.index_evidence(other)[0]

    def measure(targets, answer):
        inference = engine.gum.LazyPropagation(engine.bn)
        if targets is not None:
            inference.setTargets(targets)
        for variable, finding in here.items():
            inference.addEvidence(variable, finding)
        inference.makeInference()

        def change(items):
            """New values for the same findings: the join tree stays."""
            for variable, finding in items.items():
                inference.chgEvidence(variable, finding)
            inference.makeInference()
            answer(inference)

        def anew(items):
            """All findings removed and set: the join tree may be built again."""
            inference.eraseAllEvidence()
            for variable, finding in items.items():
                inference.addEvidence(variable, finding)
            inference.makeInference()
            answer(inference)

        try:
            return median_ms(repeat, lambda: change(away), lambda: change(here)), "changed"
        except engine.gum.NotFound:
            # Raised where a finding is on a variable that the targets do not need.
            return median_ms(repeat, lambda: anew(away), lambda: anew(here)), "set anew"

    def everything(inference):
        inference.evidenceProbability()
        for name in free:
            inference.posterior(engine.ids[name]).toarray()

    def one(inference):
        inference.posterior(engine.ids[target]).toarray()

    all_ms, all_by = measure(None, everything)
    one_ms, one_by = measure({engine.ids[target]}, one)
    return {
        "all_marginals_ms": all_ms,
        "all_marginals_findings": all_by,
        "one_marginal_ms": one_ms,
        "one_marginal_findings": one_by,
    }


def bench_pgmpy(engine, evidence, free, target, repeat):
    """Both models are built beforehand; pgmpy keeps nothing from one query to the next."""
    conditional, unnormalised, findings, _ = engine.prepare(evidence)

    def everything():
        engine.probability(unnormalised, findings, free)
        for name in free:
            engine.one(conditional, name, findings)

    def one():
        engine.one(conditional, target, findings)

    def nothing():
        pass

    return {
        "all_marginals_ms": median_ms(repeat, nothing, everything),
        "one_marginal_ms": median_ms(repeat, nothing, one),
    }


def main(argv):
    modes = argparse.ArgumentParser(add_help=False)
    mode = modes.add_mutually_exclusive_group(required=True)
    mode.add_argument("--write", action="store_true", help="write the stored files anew")
    mode.add_argument("--check", action="store_true", help="recompute and compare")

    if argv and argv[0] == "network":
        parser = argparse.ArgumentParser(prog="generate.py network")
        parser.add_argument("network")
        parser.add_argument("evidence")
        args = parser.parse_args(argv[1:])
        command_network(args.network, args.evidence)
    elif argv and argv[0] == "cases":
        parser = argparse.ArgumentParser(prog="generate.py cases", parents=[modes])
        parser.add_argument("directory")
        args = parser.parse_args(argv[1:])
        command_cases(args.directory, args.write)
    elif argv and argv[0] == "bench":
        parser = argparse.ArgumentParser(prog="generate.py bench")
        parser.add_argument("network")
        parser.add_argument("evidence")
        parser.add_argument("--repeat", type=int, default=5)
        parser.add_argument("--target", help="variable of the single marginal")
        args = parser.parse_args(argv[1:])
        command_bench(args.network, args.evidence, max(args.repeat, 1), args.target)
    else:
        parser = argparse.ArgumentParser(
            prog="generate.py",
            parents=[modes],
            description=__doc__,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        parser.add_argument("--only", nargs="+", default=[], metavar="NAME")
        args = parser.parse_args(argv)
        command_published(args.write, args.only)


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except Failed as error:
        print(f"error: {error}", file=sys.stderr)
        sys.exit(1)

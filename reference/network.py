"""Exact posteriors of a noisy-OR network by a general library's junction tree (pyAgrum)."""
from itertools import product

import pyagrum


def net(nodes):
    """A network of yes/no nodes from {name: (parents, table)}; table gives P(yes) for the parents' states."""
    network = pyagrum.BayesNet()
    for name, (parents, table) in nodes.items():
        network.add(pyagrum.LabelizedVariable(name, name, 2))
        for parent in parents:
            network.addArc(parent, name)
        for states in product((0, 1), repeat=len(parents)):
            yes = table(dict(zip(parents, states)))
            network.cpt(name)[dict(zip(parents, states))] = [1 - yes, yes]
    return network


def noisy_or(leak, links):
    """Parents and table of P(yes) = 1 - (1 - leak) prod over present parents (1 - link)."""

    def table(states):
        no = 1 - leak
        for parent, link in links.items():
            no *= 1 - link * states[parent]
        return 1 - no

    return list(links), table


def prior(probability):
    return [], lambda states: probability


def rows(parents, table):
    """A node whose table is written out, by the parents' states."""
    return parents, lambda states: table[tuple(states[parent] for parent in parents)]


def posterior(network, name, seen):
    """P(name = yes | seen)."""
    engine = pyagrum.LazyPropagation(network)
    engine.setEvidence(seen)
    engine.makeInference()
    return float(engine.posterior(name)[1])


def posteriors(network, names, seen):
    """P(name = yes | seen) of several nodes at once."""
    engine = pyagrum.LazyPropagation(network)
    engine.setEvidence(seen)
    engine.setTargets(set(names))
    engine.makeInference()
    return {name: float(engine.posterior(name)[1]) for name in names}


def exported(path):
    """The network of a file in the Bayesian Interchange Format, and the evidence that its comments state.

    The library's reader rounds to single precision (1/12 comes out as 0.0833333358), so every row is filled in again.
    """
    network, seen, mark = pyagrum.loadBN(str(path)), {}, "// evidence: "
    name, parents, states = "", [], {"no": 0, "yes": 1}
    for line in path.read_text().splitlines():
        if line.startswith(mark):
            known, state = line[len(mark):].split(" = ")
            seen[known] = states[state]
        elif line.startswith("probability ( "):
            name, _, after = line[len("probability ( "):-len(" ) {")].partition(" | ")
            parents = after.split(", ") if after else []
        elif line.startswith("  table "):
            network.cpt(name)[{}] = columns(line[len("  table "):])
        elif line.startswith("  ("):
            row, numbers = line[len("  ("):].split(") ")
            network.cpt(name)[dict(zip(parents, (states[state] for state in row.split(", "))))] = columns(numbers)
    return network, seen


def columns(text):
    return [float(number) for number in text.rstrip(";").split(", ")]


def burglary():
    """The alarm network of Russell and Norvig, "Artificial Intelligence", chapter on probabilistic reasoning."""
    alarm = {(0, 0): 0.001, (0, 1): 0.29, (1, 0): 0.94, (1, 1): 0.95}
    return net({
        "burglary": prior(0.001), "earthquake": prior(0.002),
        "alarm": rows(["burglary", "earthquake"], alarm),
        "john": rows(["alarm"], {(0,): 0.05, (1,): 0.90}), "mary": rows(["alarm"], {(0,): 0.01, (1,): 0.70}),
    })


def of_book(book):
    """The network of a fault book without computed causes, as tomllib reads it, with the node "strip": some mode."""
    nodes = {c["id"]: prior(c["prior"]["yes"] / (c["prior"]["yes"] + c["prior"]["no"])) for c in book["causes"]}
    for kind in ("modes", "findings"):
        for child in book[kind]:
            links = {c["id"]: c[kind][child["id"]] for c in book["causes"] if child["id"] in c.get(kind, {})}
            nodes[child["id"]] = noisy_or(child["leak"], {**links, **child.get("modes", {})})
    nodes["strip"] = noisy_or(0.0, {mode["id"]: 1.0 for mode in book["modes"]})
    return net(nodes)

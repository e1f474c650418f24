"""Computes, with pint, uncertainties and numpy, what quantities are held to.

Reads a list of cases as JSON and writes their results as JSON. A case of kind
"convert" is a value between two units; "expression" is a program in reverse
Polish notation on numbers with units; "first order" the same on uncertain
numbers without units, possibly correlated; "sampled" on distributions.
"""
import json
import math
import sys

import numpy as np
import pint
import uncertainties
from uncertainties import umath

registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=False)


def unit(parts):
    product = registry.dimensionless
    for name, power in parts:
        product = product * registry.Unit(name) ** power
    return product


def run(program, functions, push):
    stack = []
    for step in program:
        op = step[0]
        if op in ("q", "x"):
            stack.append(push(step))
        elif op == "+":
            b, a = stack.pop(), stack.pop()
            stack.append(a + b)
        elif op == "-":
            b, a = stack.pop(), stack.pop()
            stack.append(a - b)
        elif op == "*":
            b, a = stack.pop(), stack.pop()
            stack.append(a * b)
        elif op == "/":
            b, a = stack.pop(), stack.pop()
            stack.append(a / b)
        elif op == "pow":
            stack.append(stack.pop() ** (step[1] / step[2]))
        else:
            stack.append(functions(op, stack.pop()))
    (result,) = stack
    return result


def convert(case):
    if "scale" in case:
        q = registry.Quantity(case["value"], case["scale"][0]).to(case["scale"][1])
    else:
        q = registry.Quantity(case["value"], unit(case["from"])).to(unit(case["to"]))
    return {"value": q.magnitude}


def of_pint(op, q):
    return getattr(np, op)(q.to("dimensionless")) if op in ("exp", "log") else getattr(np, op)(q)


def expression(case):
    q = run(case["program"], of_pint, lambda s: registry.Quantity(s[1], unit(s[2])))
    return {"value": float(q.to(unit(case["to"])).magnitude)}


def first_order(case):
    if "correlation" in case:
        inputs = uncertainties.correlated_values_norm(
            [(v, u) for v, u in case["inputs"]], np.array(case["correlation"]))
    else:
        inputs = [uncertainties.ufloat(v, u) for v, u in case["inputs"]]
    r = run(case["program"], lambda op, x: getattr(umath, op)(x), lambda s: inputs[s[1]])
    return {"value": r.nominal_value, "uncertainty": r.std_dev}


def sampled(case):
    random = np.random.default_rng(case["seed"])
    count = 400_000
    draw = {
        "normal": lambda a, b, c: random.normal(a, b, count),
        "uniform": lambda a, b, c: random.uniform(a, b, count),
        "triangular": lambda a, b, c: random.triangular(a, b, c, count),
        "lognormal": lambda a, b, c: random.lognormal(math.log(a), math.log(b), count),
    }
    inputs = [draw[kind](a, b, c) for kind, a, b, c in case["inputs"]]
    r = run(case["program"], lambda op, x: getattr(np, op)(x), lambda s: inputs[s[1]])
    return {"value": float(r.mean()), "uncertainty": float(r.std(ddof=1)),
            "quantiles": [float(x) for x in np.quantile(r, [0.025, 0.5, 0.975])]}


kinds = {"convert": convert, "expression": expression, "first order": first_order, "sampled": sampled}
json.dump([kinds[c["kind"]](c) for c in json.load(sys.stdin)], sys.stdout)

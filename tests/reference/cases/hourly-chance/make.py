"""Writes hourly-chance.json beside this file: the intercept-only complementary log-log model with a log-exposure offset,
maximised by a general optimiser and root finder (SciPy), every cluster left out in turn and refitted from nothing.
The data are invented for this check. Run: python3 make.py (SciPy 1.17.1, NumPy)."""
import json, pathlib
import numpy as np
from scipy import optimize, stats

def log_lik(theta, z, h):
    lam = np.exp(theta)
    return np.sum(np.where(z == 1, np.log(-np.expm1(-lam * h)), -lam * h))

def fit(z, h):
    if z.sum() == 0: return -np.inf
    if z.all(): return np.inf
    score = lambda t: np.sum(np.where(z == 1, np.exp(t) * h / np.expm1(np.exp(t) * h), -np.exp(t) * h))
    return optimize.brentq(score, -12, 6, xtol=1e-14, rtol=1e-15)

def analyse(z, h, c, deff, pooled_clusters):
    z, h, c = np.array(z), np.array(h), np.array(c)
    theta, groups = fit(z, h), np.unique(c)
    G = len(groups)
    without = np.array([fit(z[c != g], h[c != g]) if (c != g).any() else np.nan for g in groups])
    out = {"rate": float(np.exp(theta)) if np.isfinite(theta) else ("Infinity" if theta > 0 else 0), "clusters": G}
    if G > 1 and np.isfinite(theta) and np.isfinite(without).all():
        se = np.sqrt((G - 1) / G * np.sum((without - without.mean()) ** 2))
        t = stats.t.ppf(.975, G - 1)
        return out | {"method": "jackknife", "low": float(np.exp(theta - t * se)), "high": float(np.exp(theta + t * se)), "without": np.exp(without).tolist()}
    out["method"] = "likelihood at the effective size"
    if theta == -np.inf: return out | {"low": 0, "high": float(-np.log(.025) * deff / h.sum())}
    if theta == np.inf:
        low = optimize.brentq(lambda t: log_lik(t, z, h) - deff * np.log(.025), -40, 6, xtol=1e-14)
        return out | {"low": float(np.exp(low)), "high": "Infinity"}
    df = (G if G > 1 else pooled_clusters) - 1
    cut = log_lik(theta, z, h) - deff * stats.t.ppf(.975, df) ** 2 / 2
    f = lambda t: log_lik(t, z, h) - cut
    low, high = optimize.brentq(f, theta - 30, theta, xtol=1e-14), optimize.brentq(f, theta, theta + 8, xtol=1e-14)
    return out | {"low": float(np.exp(low)), "high": float(np.exp(high))}

rng = np.random.default_rng(20260501)
def draw(clusters, per, rate, sd):
    c = np.repeat(np.arange(clusters), per)
    h = np.round(rng.uniform(.2, 1.6, len(c)), 2)
    lam = rate * np.exp(rng.normal(0, sd, clusters))[c]
    return {"happened": (rng.random(len(c)) < -np.expm1(-lam * h)).astype(int).tolist(), "exposure": h.tolist(), "cluster": c.tolist()}

cases = {"usual": draw(14, 4, .5, .6), "many": draw(400, 3, .6, .8),
         "one_big_cluster": {"happened": [1, 0, 1, 1, 0, 1, 1, 0, 1, 0, 0, 1], "exposure": [.5, 1, .75, 1.5, .3, 1, .6, .9, 1.1, .4, .8, .7], "cluster": [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 2, 2]},
         "none": {"happened": [0, 0, 0], "exposure": [1, .5, 2], "cluster": [0, 1, 1]},
         "all": {"happened": [1, 1, 1, 1], "exposure": [1, .5, 2, 1.25], "cluster": [0, 1, 1, 2]},
         "one_cluster": {"happened": [1, 0, 1], "exposure": [1, .5, 2], "cluster": [0, 0, 0]},
         "all_events_in_one": {"happened": [1, 1, 0, 0, 0], "exposure": [1, .5, 2, 1, 1.5], "cluster": [0, 0, 1, 1, 2]}}
pooled = {"deff": 1.4, "clusters": 30}
expected = {name: analyse(d["happened"], d["exposure"], d["cluster"], pooled["deff"], pooled["clusters"]) for name, d in cases.items()}
a, b = cases["usual"], draw(14, 3, .9, .6)
za, ha, ca, zb, hb, cb = (np.array(x) for x in (a["happened"], a["exposure"], a["cluster"], b["happened"], b["exposure"], b["cluster"]))
L = fit(za, ha) - fit(zb, hb)
Lg = np.array([fit(za[ca != g], ha[ca != g]) - fit(zb[cb != g], hb[cb != g]) for g in range(14)])
se = np.sqrt(13 / 14 * np.sum((Lg - Lg.mean()) ** 2)); t = stats.t.ppf(.975, 13)
case = {"id": "hourly-chance", "title": "any event in exposure h: 1 - exp(-lambda h), clusters left out in turn",
        "source": "definition: McCullagh & Nelder (1989) section 4.3 (from memory); data invented for this check",
        "provenance": f"computed with SciPy {__import__('scipy').__version__} by make.py",
        "inputs": {"pooled": pooled, "cases": cases, "ratio": {"a": a, "b": b}},
        "expected": {"cases": expected, "ratio": {"ratio": float(np.exp(L)), "low": float(np.exp(L - t * se)), "high": float(np.exp(L + t * se)), "p": float(2 * stats.t.sf(abs(L / se), 13))}},
        "tolerance": {"rel": 1e-9, "abs": 1e-12}}
pathlib.Path(__file__).with_name("hourly-chance.json").write_text(json.dumps(case) + "\n")

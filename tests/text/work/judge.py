# SPDX-License-Identifier: GPL-3.0-or-later
# judge.py RESULT.json - reads a worked case and checks it by itself: the keys that others rely on, and
# statics that hold whatever the model.
import json
import sys

result = json.load(open(sys.argv[1], encoding="utf-8"))


def at(path):
    value = result
    for key in path.split("."):
        value = value[key]
    return value


for side in ("right", "left"):
    cantilever = at("cantilever." + side)
    assert cantilever["ok"] == (cantilever["actual_mm"] <= cantilever["limit_mm"] + 1e-9), side
fits = at("thickness.chosen_mm") is not None
rigid, flexible, cuts = at("loads.rigid"), at("loads.flexible"), result["cut_down"]
assert len(rigid) == len(flexible) == len(cuts) == len(at("thickness.sites"))
least = min(site["available_mm"] for site in at("thickness.sites"))
assert abs(at("thickness.available_mm") - least) < 1e-9
governing = [s["tooth"] for s in at("thickness.sites") if s["available_mm"] < least + 1e-9]
assert at("thickness.governing_site") == governing[0]
if fits:
    assert at("thickness.chosen_mm") <= least + 1e-9
    assert abs(sum(rigid) - sum(flexible)) < 1e-5, "both models carry the same load"
    for cut in cuts:
        assert 0 <= cut["engaged_mm"] <= at("thickness.chosen_mm") + 1e-9
        assert cut["cut_mm"] >= 0
    assert at("bar.max_stress_mpa") > 0 and at("bar.max_shear_mpa") > 0
    assert at("bar.safety_factor") > at("bar.wet_factor")
else:
    assert result["verdict"] == "refer-back"
    assert all(n is None for n in flexible)
    assert at("bar.safety_factor") is None
assert at("bar.tip_deflection_mm") is None or isinstance(at("bar.tip_deflection_mm"), float)
assert any("does not replace the prescription" in words for words in result["cautions"])
assert at("spread_mm") in (at("spread.distal_surface_mm"), at("spread.centres_mm"))

# SPDX-License-Identifier: GPL-3.0-or-later
"""xapi_rules.py FILE - the rules of the Experience API 1.0.3 (ADL, Part Two, 2016) for the statements in an
array, as far as ours use them, with five that the published JSON schema misses: raw within min and max,
min below max, weeks alone in a duration, the variant of a UUID, a version that begins 1.0. First the rules
are tried on statements that break them. Prints how many statements passed."""
import copy
import json
import re
import sys

UUID = re.compile(r"[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[89abAB][0-9a-fA-F]{3}-[0-9a-fA-F]{12}\Z")
IRI = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:[^\s<>\"{}|\\^`]+\Z")
TIME = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d{1,9})?"
                  r"(Z|[+-][01]\d:[0-5]\d)\Z")
DURATION = re.compile(r"P(\d+W|(?=.)(\d+Y)?(\d+M)?(\d+D)?(T(?=\d)(\d+H)?(\d+M)?(\d+(\.\d{1,2})?S)?)?)\Z")
TAG = re.compile(r"[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*\Z")
INTERACTIONS = {"true-false", "choice", "fill-in", "long-fill-in", "matching", "performance",
                "sequencing", "likert", "numeric", "other"}


class Broken(Exception):
    pass


def need(truth, words):
    if not truth:
        raise Broken(words)


def only(o, names, where):
    need(isinstance(o, dict), f"{where} is no object")
    for name in o:
        need(name in names, f"{where} has no {name}")


def text(o, where):
    need(isinstance(o, str), f"{where} is no text")


def iri(o, where):
    text(o, where)
    need(IRI.match(o), f"{where} is no IRI: {o}")


def words(o, where):
    need(isinstance(o, dict) and o, f"{where} is no language map")
    for tag, value in o.items():
        need(TAG.match(tag), f"{where}: {tag} is no language")
        text(value, where)


def extensions(o, where):
    need(isinstance(o, dict), f"{where} is no object")
    for name in o:
        iri(name, f"a name in {where}")


def agent(o, where):
    only(o, {"objectType", "name", "mbox", "mbox_sha1sum", "openid", "account"}, where)
    need(o.get("objectType", "Agent") == "Agent", f"{where} is no Agent")
    kinds = [k for k in ("mbox", "mbox_sha1sum", "openid", "account") if k in o]
    need(len(kinds) == 1, f"{where} has {len(kinds)} identifiers")
    if "account" in o:
        only(o["account"], {"homePage", "name"}, where)
        iri(o["account"].get("homePage"), f"{where}: homePage")
        text(o["account"].get("name"), f"{where}: name")


def activity(o, where):
    only(o, {"objectType", "id", "definition"}, where)
    need(o.get("objectType", "Activity") == "Activity", f"{where} is no Activity")
    iri(o.get("id"), f"{where}: id")
    if "definition" not in o:
        return
    d = o["definition"]
    only(d, {"name", "description", "type", "moreInfo", "extensions", "interactionType",
             "correctResponsesPattern"}, where)
    if "name" in d:
        words(d["name"], f"{where}: name")
    if "interactionType" in d:
        need(d["interactionType"] in INTERACTIONS, f"{where}: {d['interactionType']}")
    if "correctResponsesPattern" in d:
        need("interactionType" in d, f"{where}: a pattern without interactionType")
        need(isinstance(d["correctResponsesPattern"], list), f"{where}: the pattern is no list")
        for p in d["correctResponsesPattern"]:
            text(p, f"{where}: pattern")
            if d["interactionType"] == "numeric":
                low, mark, high = p.partition("[:]")
                need(mark and float(low) <= float(high), f"{where}: {p}")


def number(o, where):
    need(isinstance(o, (int, float)) and not isinstance(o, bool), f"{where} is no number")


def score(o):
    only(o, {"scaled", "raw", "min", "max"}, "score")
    for name, value in o.items():
        number(value, f"score: {name}")
    need(-1 <= o.get("scaled", 0) <= 1, "scaled is not within -1 and 1")
    need(o.get("min", float("-inf")) < o.get("max", float("inf")), "min is not below max")
    if "raw" in o:
        need(o.get("min", o["raw"]) <= o["raw"] <= o.get("max", o["raw"]), "raw is not within min and max")


def result(o):
    only(o, {"score", "success", "completion", "response", "duration", "extensions"}, "result")
    for name in ("success", "completion"):
        need(isinstance(o.get(name, True), bool), f"{name} is no truth")
    if "response" in o:
        text(o["response"], "response")
    if "duration" in o:
        need(isinstance(o["duration"], str) and DURATION.match(o["duration"]), f"duration {o['duration']}")
    if "score" in o:
        score(o["score"])
    if "extensions" in o:
        extensions(o["extensions"], "result")


def context(o, object_type):
    only(o, {"registration", "instructor", "team", "contextActivities", "revision", "platform", "language",
             "statement", "extensions"}, "context")
    if "registration" in o:
        need(UUID.match(o["registration"]), "registration is no UUID")
    if "instructor" in o:
        agent(o["instructor"], "instructor")
    for name in ("revision", "platform"):
        if name in o:
            text(o[name], name)
            need(object_type == "Activity", f"{name} where the object is no Activity")
    for kind, list_ in o.get("contextActivities", {}).items():
        need(kind in ("parent", "grouping", "category", "other"), f"contextActivities: {kind}")
        need(isinstance(list_, list), f"{kind} is no list")
        for a in list_:
            activity(a, kind)
    if "extensions" in o:
        extensions(o["extensions"], "context")


def no_null(o, where="statement"):
    need(o is not None, f"null in {where}")
    for name, value in o.items() if isinstance(o, dict) else enumerate(o) if isinstance(o, list) else ():
        if name != "extensions":
            no_null(value, name)


def statement(s):
    only(s, {"id", "actor", "verb", "object", "result", "context", "timestamp", "version"}, "statement")
    no_null(s)
    need(isinstance(s.get("id"), str) and UUID.match(s["id"]), f"id {s.get('id')}")
    agent(s.get("actor"), "actor")
    only(s.get("verb"), {"id", "display"}, "verb")
    iri(s["verb"].get("id"), "verb")
    if "display" in s["verb"]:
        words(s["verb"]["display"], "verb")
    activity(s.get("object"), "object")
    need(isinstance(s.get("timestamp"), str) and TIME.match(s["timestamp"]), f"timestamp {s.get('timestamp')}")
    need(re.match(r"1\.0(\.\d+)?\Z", s.get("version", "1.0.0")), f"version {s.get('version')}")
    if "result" in s:
        result(s["result"])
    if "context" in s:
        context(s["context"], s["object"].get("objectType", "Activity"))


def change(s, path, value):
    s = copy.deepcopy(s)
    o = s
    for name in path[:-1]:
        o = o.setdefault(name, {})
    if value is ...:
        o.pop(path[-1])
    else:
        o[path[-1]] = value
    return s


def try_rules(good):
    score_of = {"scaled": 0.5, "raw": 5, "min": 0, "max": 10}
    statement(change(good, ["result", "score"], score_of))
    broken = [
        (["result", "score"], dict(score_of, raw=11)), (["result", "score"], dict(score_of, min=10)),
        (["result", "duration"], "P4W1D"), (["id"], "919108f7-52d1-4320-cbac-f847db4148a8"),
        (["version"], "2.0.0"),
        # and what the schema finds too
        (["actor"], ...), (["verb", "id"], ...), (["actor", "mbox"], "mailto:a@example.org"),
        (["actor", "account", "name"], ...), (["result", "score"], {"scaled": 1.01}),
        (["result", "success"], "true"), (["result", "response"], None), (["colour"], "red"),
        (["id"], "x"), (["result", "duration"], "PT1.234S"), (["timestamp"], "yesterday"),
        (["verb", "id"], "answered"), (["verb", "display"], {"not a tag": "x"}),
        (["context", "mood"], "good"), (["object", "definition", "interactionType"], ...),
        (["object", "objectType"], "StatementRef"),
    ]
    for path, value in broken:
        try:
            statement(change(good, path, value))
        except Broken:
            continue
        sys.exit(f"these rules let {path} = {value} pass")


with open(sys.argv[1], encoding="utf-8") as f:
    everything = json.load(f)
try_rules(next(s for s in everything if "answered" in s["verb"]["id"]))
seen = {}
for one in everything:
    try:
        statement(one)
        need(seen.setdefault(one["id"], one) is one, "this id was there before")
    except Broken as fault:
        sys.exit(f"{one.get('id')}: {fault}")
print(len(everything))

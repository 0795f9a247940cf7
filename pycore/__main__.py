"""The core on the command line.

    python -m pycore describe                          every method with its shapes
    python -m pycore call METHOD < request.json        answers exactly what the page gets
    python -m pycore check RIG.json [--json] [--lamp A1] [--shot S1]
"""

import argparse
import json
import sys
from typing import Any

from pycore.api import door


def main(arguments: list[str] | None = None) -> int:
    """Run a command; 0 when an answer came, 1 when it was refused, 2 for a wrong command."""
    parser = argparse.ArgumentParser(prog="python -m pycore", description="Feed to Frame: the calculation core")
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("describe", help="every method with the shapes of its request and answer")
    call = commands.add_parser("call", help="answer a method; its parameters are JSON on standard input")
    call.add_argument("method")
    check = commands.add_parser("check", help="readable findings of a rig file")
    check.add_argument("rig", help="a rig file, or - for standard input")
    check.add_argument("--json", action="store_true", help="the whole findings as JSON")
    check.add_argument("--lamp", default="", help="only this lamp")
    check.add_argument("--shot", default="")
    given = parser.parse_args(arguments)
    if given.command == "check":
        return _check(given)
    params = "" if given.command == "describe" else sys.stdin.buffer.read().decode(errors="surrogateescape")
    return _call("describe" if given.command == "describe" else given.method, params)


def _call(method: str, params: str) -> int:
    try:
        answer = door.answer(method, json.loads(params) if params.strip() else {})
    except (ValueError, RecursionError) as error:
        print(f"The request is not readable as JSON: {error}", file=sys.stderr)
        return 2
    print(answer)
    return 0 if json.loads(answer)["ok"] else 1


def _check(given: argparse.Namespace) -> int:
    try:
        text = sys.stdin.read() if given.rig == "-" else open(given.rig, encoding="utf-8").read()
    except (OSError, UnicodeDecodeError) as error:
        print(f"{given.rig}: {getattr(error, 'strerror', '') or 'not a text file'}", file=sys.stderr)
        return 2
    opened = json.loads(door.answer("open_rig", {"text": text}))
    if not opened["ok"]:
        return _refused(opened["error"])
    whole = json.loads(door.answer("check", {"rig": opened["result"]["rig"]}))
    if not whole["ok"]:
        return _refused(whole["error"])
    lamps, shots = ([x["id"] for x in whole["result"][k]] for k in ("lamps", "shots"))
    for kind, wanted, there in (("lamp", given.lamp, lamps), ("shot", given.shot, shots)):
        if wanted and wanted not in there:
            print(f"The rig has no {kind} {wanted}; it has: {', '.join(there) or 'none'}", file=sys.stderr)
            return 2
    lamps = [given.lamp] if given.lamp else lamps or [""]
    answers = [json.loads(door.answer("check", {"rig": opened["result"]["rig"], "load": i, "shot": given.shot})) for i in lamps]
    if given.json:
        print(json.dumps([a.get("result") or a["error"] for a in answers], ensure_ascii=False, indent=2))
        return 0 if all(a["ok"] for a in answers) else 1
    for a in answers:
        if not a["ok"]:
            return _refused(a["error"])
    for p in answers[0]["result"]["problems"]:
        print(f"! {p['address']}: {p['message']}. {p['way_out']}.")
    for a in answers:
        _print_chain(a["result"]["chain"])
    return 0


def _refused(error: dict[str, Any]) -> int:
    for p in error["problems"] or [error]:
        print(f"! {p.get('address') or p['code']}: {p['message']}. {p.get('way_out') or p.get('hint') or ''}", file=sys.stderr)
    return 1


def _print_chain(chain: dict[str, Any] | None) -> None:
    if chain is None:
        print("The rig has no lamp.")
        return
    print(f"\n{chain['name']}: {chain['headline']}\n  {chain['sentence']}")
    for link in chain["links"]:
        figure = link["figure"]["quantity"] if link["figure"] else None
        number = f"{figure['shown']} {figure['shown_unit']}" if figure else "-"
        print(f"  {link['title']:<14}{link['verdict']:<9}{number:>12}  {link['caption']}  [{link['detail']}]")
        for f in link["findings"]:
            print(f"      {f['verdict']:<8} {f['title']} {f['says']}")
            for r in f["remedies"]:
                print(f"               → {r['text']}")
        for e in link["estimates"]:
            print(f"               ~ {e}")


if __name__ == "__main__":
    sys.exit(main())

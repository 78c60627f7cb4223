"""The commands and their options. Each body imports what it needs, so that a start stays quick."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(
    name="relet",
    help="Plans and proves the power of small let units as tenants come and go. A design aid for competent persons; it "
    "replaces neither local rules nor a licensed person's judgement.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

File = Annotated[Path, typer.Argument(help="unit file (relet/unit/1)", show_default=False)]
Code = Annotated[str | None, typer.Option("--code", help="code pack; left out: the unit file's", show_default=False)]
Tenancy = Annotated[str | None, typer.Option("--tenancy", help="id of one tenancy", show_default=False)]
Plans = Annotated[list[Path] | None, typer.Option("--plan", help="plan file to use", show_default=False)]
Json = Annotated[bool, typer.Option("--json", help="machine-readable form on standard output")]
Quiet = Annotated[bool, typer.Option("-q", "--quiet", help="only what is asked for")]
Seconds = Annotated[float, typer.Option(min=1, help="time to plan")]
Out = Annotated[Path | None, typer.Option("--out", help="where to write", show_default=False)]


@app.command()
def new(file: Annotated[Path, typer.Argument(help="file to write", show_default=False)], quiet: Quiet = False) -> None:
    """Write a commented starter unit file.

    Example: relet new unit_12.toml
    """
    from relet.files import starter

    starter(file)
    if not quiet:
        print(f"{file} written. Fill it in, then: relet check {file}")


@app.command()
def check(
    file: File, tenancy: Tenancy = None, plan: Plans = None, code: Code = None, json: Json = False, quiet: Quiet = False
) -> None:  # fmt: skip
    """Judge what stands, or a tenancy's design, or all.

    Exit 0: nothing fails or depends. 1: something fails. 2: unusable input. 3: something depends.

    Example: relet check examples/limekiln_yard/unit_7.toml --tenancy harbour
    """
    from relet.cli import checking

    raise typer.Exit(checking.run(file, tenancy, plan or [], code, json=json, quiet=quiet))


@app.command()
def design(
    file: File, tenancy: Tenancy = None, out: Out = None,
    seconds: Seconds = 25.0,
    code: Code = None, json: Json = False, quiet: Quiet = False,
) -> None:  # fmt: skip
    """Plan outlet assemblies and feeds for one or all tenancies, and write a plan file beside the unit file.

    Shows price, bound and gap while it runs. Ctrl-C stops it and keeps the best plan found so far.

    Example: relet design examples/limekiln_yard/unit_7.toml --out unit_7.plan.toml
    """
    from relet.cli import designing

    raise typer.Exit(designing.run(file, tenancy, out, seconds, code, json=json, quiet=quiet))


@app.command()
def change(
    file: File,
    from_: Annotated[str, typer.Option("--from", help='"standing" or a tenancy with a design', show_default=False)],
    to: Annotated[str, typer.Option("--to", help='"standing" or a tenancy with a design', show_default=False)],
    plan: Plans = None, json: Json = False, quiet: Quiet = False,
) -> None:  # fmt: skip
    """List the changeover from one installation to another: ordered steps, parts, tests that fall, hours, price.

    Example: relet change examples/limekiln_yard/unit_7.toml --from standing --to harbour
    """
    from relet.cli import changing

    raise typer.Exit(changing.run(file, from_, to, plan or [], json=json, quiet=quiet))


@app.command()
def pack(
    file: File,
    out: Annotated[Path, typer.Option("--out", help="folder to write to", show_default=False)],
    tenancy: Tenancy = None, plan: Plans = None, code: Code = None, quiet: Quiet = False,
) -> None:  # fmt: skip
    """Write proposal (PDF), plan and single-line diagram (SVG) and changeover of each design.

    Example: relet pack examples/limekiln_yard/unit_7.toml --out out/unit_7
    """
    from relet.cli import packing

    raise typer.Exit(packing.run(file, tenancy, plan or [], out, code, quiet=quiet))


@app.command()
def figures(file: File, tenancy: Tenancy = None, plan: Plans = None, code: Code = None, json: Json = False) -> None:
    """List the tabulated figures that decide this unit's verdicts, worst status first.

    Example: relet figures examples/limekiln_yard/unit_7.toml
    """
    from relet.cli import figuring

    raise typer.Exit(figuring.run(file, tenancy, plan or [], code, json=json))


@app.command()
def verify(
    json: Json = False,
    mutate: Annotated[bool, typer.Option("--mutate", help="scale each function by 1.02: its checks must fail")] = False,
    quiet: Quiet = False,
) -> None:
    """Recompute the published checks on this machine: source, expected, got, deviation.

    Example: relet verify --json
    """
    from relet.cli import verifying

    raise typer.Exit(verifying.run(json=json, mutate=mutate, quiet=quiet))


@app.command()
def demo(
    folder: Annotated[Path, typer.Argument(help="where to write")] = Path("out/demo"),
    seconds: Seconds = 25.0,
    quiet: Quiet = False,
) -> None:
    """Run the whole main job on the example unit: check, plan, prove, price, draw, change over.

    Example: relet demo out/demo
    """
    from relet.cli import demonstrating

    raise typer.Exit(demonstrating.run(folder, seconds, quiet=quiet))


@app.command()
def serve(
    file: File, plan: Plans = None, code: Code = None, port: Annotated[int, typer.Option(min=1, max=65535)] = 8017
) -> None:  # fmt: skip
    """Serve a read-only page of the unit on 127.0.0.1, every figure a link to its working.

    Example: relet serve examples/limekiln_yard/unit_7.toml --port 8017
    """
    from relet.cli import serving

    raise typer.Exit(serving.run(file, plan or [], code, port))

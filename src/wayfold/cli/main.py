"""The command line: ``wayfold COMMAND``. Commands are loaded only when they are called."""

from __future__ import annotations

import io
import sys
from importlib import import_module

import click

from wayfold.base.errors import CancelledError, UserError
from wayfold.disk.refusals import explain_refusal

COMMANDS = {
    "new": "Start a book in a folder.",
    "styles": "Show the styles a book can have, a spread of each.",
    "journey": "Say where the journey went, and how that is known.",
    "clocks": "Say what each camera's clock was, and how that is known.",
    "choose": "Say which photographs it takes and leaves, and why.",
    "plan": "Plan its pages on paper, and show the flatplan.",
    "arrange": "Show how else a page's pictures could lie, and take another way.",
    "make": "Make the print files.",
    "case": "Give the measures of its case, its pocket and its sewing.",
    "check": "Say what would disappoint on paper.",
    "printed": "Note which sheets are printed, and list those to print again.",
    "setup": "Set up paper, printer and thread by answering questions.",
    "register": "Set the backs of sheets right on the fronts, for this printer.",
    "translucent": "Measure a translucent paper by a scan of two patches.",
    "proof": "Show the pages as the printer's colour profile has them.",
    "refold": "Fold the print file back into a book, as a proof.",
    "undo": "Take back the last change.",
    "redo": "Do again what was undone.",
    "history": "List what was changed, and when.",
    "copies": "Choose between two versions of a file, where a machine or a drive left both.",
    "desk": "Open the book in the browser.",
    "doctor": "Say what works on this machine, and what to do about the rest.",
    "demo": "Make a whole book from a journey that comes with Wayfold.",
}

DONE, BOOK_BLOCKED, PERSON_CAN_MEND, STOPPED = 0, 1, 2, 130


class CommandsOnDemand(click.Group):
    """A group that knows its commands' names and imports a command's module when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """All commands, in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The command of that name."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"wayfold.cli.{cmd_name}")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=CommandsOnDemand)
@click.version_option(package_name="wayfold")
def wayfold() -> None:
    """Turn a trip into a book that you print, fold, sew and case in by hand."""


def main() -> None:
    """Run the command line; give the exit code the outcome asks for."""
    for stream in (sys.stdout, sys.stderr):
        free_of_code_page(stream)
    sys.exit(run(sys.argv[1:]))


def free_of_code_page(stream: object) -> None:
    """Have ``stream`` take any letter: into files and pipes goes UTF-8 whatever the system's habit.

    A terminal keeps its own coding, and shows a sign it does not know as a question mark.
    """
    # Windows writes its old code page into files, which has no name of a town in Poland.
    if isinstance(stream, io.TextIOWrapper):
        if stream.isatty():
            stream.reconfigure(errors="replace")
        else:
            stream.reconfigure(encoding="utf-8")


def run(arguments: list[str]) -> int:
    """Run one command and give its exit code.

    0 done, 1 the book has findings that block, 2 an error that the person can mend, 130 stopped.
    """
    try:
        result = wayfold.main(arguments, prog_name="wayfold", standalone_mode=False)
    except click.exceptions.Abort:
        return STOPPED
    except KeyboardInterrupt:
        click.echo("Stopped. Everything done so far is kept.", err=True)
        return STOPPED
    except click.ClickException as error:
        error.show()
        return PERSON_CAN_MEND
    except CancelledError as error:
        click.echo(str(error), err=True)
        return STOPPED
    except UserError as error:
        click.echo(str(error), err=True)
        return PERSON_CAN_MEND
    except OSError as error:
        told = explain_refusal(error, str(error.filename or ""))
        if told is None:
            raise
        click.echo(str(told), err=True)
        return PERSON_CAN_MEND
    return result if isinstance(result, int) else DONE

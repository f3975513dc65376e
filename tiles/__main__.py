"""``python -m tiles``, and the ``tiles`` script: light, so that Ctrl-C is heard from the start."""

import gc
import sys

RARELY = 50_000
"""New objects between two rounds of the collector: a command is over before most of them."""


def main() -> None:
    """Run the command on the command line; stopped while it is still being loaded, in one line."""
    gc.set_threshold(RARELY)
    try:
        from tiles.cli.main import run

        run()
    except KeyboardInterrupt:
        print("\nStopped. Nothing more was stored.", file=sys.stderr)
        sys.exit(130)


if __name__ == "__main__":
    main()

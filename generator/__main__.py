"""`python -m generator` is `gauzeleaf`."""

from generator.cli.main import run

if __name__ == "__main__":
    run()

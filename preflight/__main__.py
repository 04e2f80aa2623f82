"""`python -m preflight`: the same command line."""

from preflight.cli import main

if __name__ == "__main__":
    main()

"""Figures of speed, printed and never asserted: `python -m tests.benchmarks [NAME ...]`."""

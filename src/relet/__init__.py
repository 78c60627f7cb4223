"""Relet: plans and proves the power of small let units as tenants come and go."""

__version__ = "0.1.0"

"""Pricing: price book editions, material and labour, landlord and tenant."""

from relet.pricing.book import Payer, PriceBook, Share, UnknownPrice
from relet.pricing.lines import Line, Price, line, priced
from relet.pricing.pieces import cores, length_m, metre_names, minutes, number
from relet.pricing.price import Task, price_change, price_installation, work_name

__all__ = [
    "Line", "Payer", "Price", "PriceBook", "Share", "Task", "UnknownPrice", "cores", "length_m", "line", "metre_names",
    "minutes", "number", "price_change", "price_installation", "priced", "work_name",
]  # fmt: skip

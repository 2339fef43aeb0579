"""Formulas, routines and tables that come with Embertray, each with its source."""

"""Skinpin: the defect book of a workshop that restores historic aircraft."""

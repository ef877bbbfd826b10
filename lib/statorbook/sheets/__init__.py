"""Sheets: pages for the bench, made as a PDF to print on A4 or US Letter."""

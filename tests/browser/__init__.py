"""Tests of the pages in the real JupyterLab; a package, so that its server and browser end with its last test."""

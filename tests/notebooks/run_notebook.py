"""Runs one notebook as a reader would, in a fresh kernel and in its own folder, and keeps the executed page to be looked at.

    run_notebook.py NOTEBOOK.ipynb FOLDER

Fails when a cell raises, when the stored notebook has outputs, or when it takes longer than a class waits.
"""

import os
import pathlib
import sys
import time

import nbformat
from nbclient import NotebookClient

LONGEST_S = 90


def main(path, folder):
    path = pathlib.Path(path)
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    stored = [cell.id for cell in code if cell.outputs or cell.execution_count]
    if stored:
        sys.exit(f"{path.name}: stored with outputs in {', '.join(stored)}; strip them")
    os.environ["MPLBACKEND"] = "module://matplotlib_inline.backend_inline"
    began = time.monotonic()
    NotebookClient(notebook, timeout=LONGEST_S, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}).execute()
    took = time.monotonic() - began
    pathlib.Path(folder).mkdir(parents=True, exist_ok=True)
    nbformat.write(notebook, pathlib.Path(folder) / path.name)
    errors = [output for cell in code for output in cell.outputs if output.output_type == "stream" and output.name == "stderr"]
    if errors:
        sys.exit(f"{path.name}: a cell talks on stderr: {errors[0].text}")
    print(f"{path.name}: {len(code)} cells in {took:.1f} s")
    if took > LONGEST_S:
        sys.exit(f"{path.name}: took {took:.0f} s; at most {LONGEST_S} s")


if __name__ == "__main__":
    main(*sys.argv[1:])

"""Installs the Python module from the source tree: CMake builds it, as for the tests, and its package folder is what gets installed. Where PULSEWRIGHT_BUILT names
a build folder that holds the module already, that is taken."""

import os
import pathlib
import re
import subprocess
import sys

from setuptools import Extension, setup
from setuptools.command.build_ext import build_ext

SOURCE = pathlib.Path(__file__).resolve().parents[2]
(SOURCE / "build-python").mkdir(exist_ok=True)  # named in setup.cfg


class CMakeBuild(build_ext):
    """Builds the one target that the module needs."""

    def build_extension(self, ext):
        there = os.environ.get("PULSEWRIGHT_BUILT")
        built = pathlib.Path(there or self.build_temp).resolve()
        if not there:
            subprocess.run(
                ["cmake", "-S", SOURCE, "-B", built, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release", "-DPULSEWRIGHT_TESTS=OFF",
                 "-DPULSEWRIGHT_PYTHON=ON", f"-DPython3_EXECUTABLE={sys.executable}"], check=True)
            subprocess.run(["cmake", "--build", built, "--target", "pulsewright_python"], check=True)
        target = pathlib.Path(self.get_ext_fullpath(ext.name)).resolve()
        target.parent.mkdir(parents=True, exist_ok=True)
        library = next((built / "python" / "pulsewright").glob("_core*.so"))
        self.copy_file(library, target)


def version():
    return re.search(r"project\(pulsewright VERSION ([0-9.]+)", (SOURCE / "CMakeLists.txt").read_text()).group(1)


setup(
    version=version(),
    packages=["pulsewright"],
    package_data={"pulsewright": ["*.pyi", "py.typed"]},
    ext_modules=[Extension("pulsewright._core", sources=[])],
    cmdclass={"build_ext": CMakeBuild},
)

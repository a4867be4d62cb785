"""Versions of the libraries that are installed, to be held against requirements.txt. Input: a list of names. Output: name to version."""

import importlib.metadata
import json
import sys

json.dump({name: importlib.metadata.version(name) for name in json.load(sys.stdin)}, sys.stdout)

"""Our own code, broken on purpose in one place at a time, and the tests that should notice.

mutmut says what can be broken and how; its own runner is not used. It puts every mutation of a
function into one copy of the program and chooses among them at every call, which makes the rules
several times slower, and it cannot break what runs on import. Here the tests are collected once.
Then each mutant gets a child of that process, in which the code of one function is exchanged in
place, and the tests that enter the function run until one of them fails. What runs on import, or
fills a cache then, is broken in a child that has not imported the program yet.
"""

import ast
import sys
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import NamedTuple

import libcst
from mutmut.mutation.file_mutation import Mutation, create_mutations, deep_replace

TOP = Path(__file__).parents[2]


class Function(NamedTuple):
    """A function or method that can be broken: where it is and where its body begins."""

    path: Path
    name: str
    """``watch`` or ``Evidence.take``."""
    first: int
    """The first line of it that runs when it is entered."""

    @property
    def module(self) -> str:
        """The name under which it is imported."""
        return ".".join(self.path.relative_to(TOP / "src").with_suffix("").parts)

    @property
    def room(self) -> str:
        """The room it stands in."""
        return self.path.parent.name

    def live(self, module: ModuleType) -> FunctionType | None:
        """The function itself, if it is a plain one whose code can be exchanged."""
        *owner, name = self.name.split(".")
        space = vars(getattr(module, owner[0])) if owner else vars(module)
        found = space.get(name)
        found = getattr(found, "__func__", found)
        return found if isinstance(found, FunctionType) else None


class Mutant(NamedTuple):
    """One function with one mutation; the number tells it from the file's others."""

    function: Function
    number: int
    source: str
    """The whole file with this mutation in it."""

    @property
    def name(self) -> str:
        """``rules.spell Band.read 12``."""
        module = self.function.module.removeprefix("boxlamp.")
        return f"{module} {self.function.name} {self.number}"

    def code(self) -> CodeType:
        """The function's code with this mutation in it."""
        whole = compile(self.source, str(self.function.path), "exec", dont_inherit=True)
        return _within(whole, self.function.name.split("."))

    def change(self) -> list[str]:
        """The lines it changes: as they are, and as they would be."""
        before = self.function.path.read_text(encoding="utf-8").splitlines()
        after = self.source.splitlines()
        start = next(at for at, (old, new) in enumerate(zip(before, after, strict=False))
                     if old != new)  # fmt: skip
        end = -next(at for at, (old, new) in enumerate(zip(before[::-1], after[::-1], strict=False))
                    if old != new)  # fmt: skip
        return [
            f"line {start + 1}",
            *(f"- {line}" for line in before[start : len(before) + end]),
            *(f"+ {line}" for line in after[start : len(after) + end]),
        ]


class Site(NamedTuple):
    """A place where a function can be broken, and how; cheap until the file is written out."""

    function: Function
    number: int
    original: libcst.Module
    mutation: Mutation

    def mutant(self) -> Mutant:
        """The mutant, with its file written out."""
        old, new = self.mutation.original_node, self.mutation.mutated_node
        changed = deep_replace(self.original, old, new)
        assert isinstance(changed, libcst.Module)
        return Mutant(self.function, self.number, changed.code)


def _within(code: CodeType, names: list[str]) -> CodeType:
    for name in names:
        code = next(
            one for one in code.co_consts if isinstance(one, CodeType) and one.co_name == name
        )
    return code


class File:
    """A file of the program and every way to break one of its functions."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.text = path.read_text(encoding="utf-8")

    @cached_property
    def functions(self) -> dict[str, Function]:
        """Its functions and methods by name."""
        found: dict[str, Function] = {}
        for node in ast.parse(self.text).body:
            inside = node.body if isinstance(node, ast.ClassDef) else [node]
            owner = f"{node.name}." if isinstance(node, ast.ClassDef) else ""
            for one in inside:
                if isinstance(one, ast.FunctionDef):
                    first = one.body[1 if ast.get_docstring(one) and one.body[1:] else 0].lineno
                    found[owner + one.name] = Function(self.path, owner + one.name, first)
        return found

    def sites(self) -> Iterator[Site]:
        """Every mutation inside a function, as mutmut makes them."""
        module, mutations, *_ = create_mutations(str(self.path), self.text)
        names = _named(module)
        for number, mutation in enumerate(mutations, start=1):
            name = names.get(id(mutation.contained_by_top_level_function))
            if name is not None:
                yield Site(self.functions[name], number, module, mutation)


def _named(module: libcst.Module) -> dict[int, str]:
    """The names of a file's functions and methods by the identity of their nodes."""
    found: dict[int, str] = {}
    for node in module.body:
        if isinstance(node, libcst.FunctionDef):
            found[id(node)] = node.name.value
        elif isinstance(node, libcst.ClassDef):
            for one in node.body.body:
                if isinstance(one, libcst.FunctionDef):
                    found[id(one)] = f"{node.name.value}.{one.name.value}"
    return found


def put_in_place(mutant: Mutant) -> bool:
    """Exchange the code of the function in this very process; says whether that can be done."""
    live = mutant.function.live(sys.modules[mutant.function.module])
    code = mutant.code()
    # A default of a parameter is no part of the code: it was made on import.
    if live is None or code == live.__code__ or code.co_freevars != live.__code__.co_freevars:
        return False
    live.__code__ = code
    return True


def import_broken(mutant: Mutant) -> None:
    """Let the module be imported with this mutation; it must not have been imported yet."""
    from importlib.abc import MetaPathFinder
    from importlib.machinery import ModuleSpec, SourceFileLoader
    from importlib.util import spec_from_file_location

    class Broken(SourceFileLoader):
        def get_code(self, fullname: str) -> CodeType:
            del fullname
            return compile(mutant.source, self.path, "exec", dont_inherit=True)

    class Finder(MetaPathFinder):
        def find_spec(self, fullname: str, *_: object) -> ModuleSpec | None:
            if fullname != mutant.function.module:
                return None
            path = str(mutant.function.path)
            return spec_from_file_location(fullname, path, loader=Broken(fullname, path))

    sys.meta_path.insert(0, Finder())

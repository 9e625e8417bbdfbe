"""Public declarations without a comment of their own: documented.py FOLDER...

Reads C++ headers as text: types, functions, constants, enumerators and public members need a comment that
begins with ///, before them or (///<) behind them. Exempt, since they say all by themselves: what is defaulted
or deleted, destructors, moves, comparisons, constructors that only store (an empty body, or one argument), overrides
(the base says it), friends, namespaces called `detail`, names brought in by `using`. A comment of an enumeration is one of its words too,
and one before a block of aliases without an empty line between them is of them all.
"""
import pathlib
import re
import sys

TOKEN = re.compile(r"""(?P<after>///<[^\n]*)|(?P<doc>///[^\n]*)|(?P<comment>//[^\n]*|/\*.*?\*/)
                     |(?P<directive>^[ \t]*\#(?:[^\n\\]|\\.)*)
                     |(?P<text>"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)'|::|->|&&|<=>|[-+*/=!<>]=|\d[\w.']*|\n|[^\S\n]+|[A-Za-z_]\w*|.)""",
                   re.VERBOSE | re.MULTILINE | re.DOTALL)
SCOPE = re.compile(r"\b(namespace|class|struct|union|enum(?: class)?)\b")
ACCESS = ("public", "private", "protected")


class Scope:
    def __init__(self, kind, name):
        self.kind, self.name = kind, name
        self.is_public, self.is_hidden, self.has_comment = kind != "class", False, False


class Reader:
    """Walks a header's tokens, one declaration after another."""

    def __init__(self, path):
        self.path = path
        self.tokens = list(TOKEN.finditer(path.read_text(encoding="utf-8")))
        self.at, self.line = 0, 1
        self.scopes = []
        self.missing, self.seen = [], 0
        self.alias_line = 0
        self.last = None  # the declaration that a ///< may still be about

    def run(self):
        self.start()
        while self.at < len(self.tokens):
            self.step(self.tokens[self.at])
            self.at += 1
        self.settle()

    def start(self):
        self.words, self.is_documented, self.first_line, self.depth = [], False, 0, 0

    def step(self, token):
        kind, text = token.lastgroup, token.group()
        if kind == "doc":
            self.settle()
            self.is_documented = True
        elif kind == "after":
            self.last = None
        elif kind == "text" and text.strip():
            self.take(text)
        self.line += text.count("\n")

    def take(self, text):
        if not self.words:
            if text == "}":
                self.close()
                return
            self.first_line = self.line
        self.depth += text in "(["
        self.depth -= text in ")]"
        if text == ":" and len(self.words) == 1 and self.words[0] in ACCESS:
            self.settle()
            self.scopes[-1].is_public = self.words[0] == "public"
            self.start()
        elif self.depth == 0 and text in "{;" or self.ends_enumerator(text):
            self.end(text)
        else:
            self.words.append(text)

    def in_enum(self):
        return bool(self.scopes) and self.scopes[-1].kind.startswith("enum")

    def ends_enumerator(self, text):
        return self.in_enum() and self.depth == 0 and text in ",}"

    def end(self, text):
        declaration = " ".join(self.words)
        head = re.sub(r"^template < .*? > (?=class|struct)", "", declaration)
        scope = SCOPE.match(head)
        if text == "{" and scope:
            self.open(scope.group(1), head, declaration)
            return
        if text == "{":
            is_whole = self.skip_body()
            if not is_whole:  # braces of a value: the declaration goes on to its semicolon
                self.words.append("{}")
                return
        if declaration and not (scope and text == ";"):
            self.note(declaration)
        self.start()
        if text == "}":
            self.close()

    def skip_body(self):
        """Over { ... }; true if that was the body of a function, false if a value follows or is in it."""
        depth, start = 0, self.at
        while True:
            text = self.tokens[self.at].group()
            self.line += text.count("\n") if self.at > start else 0
            depth += (text == "{") - (text == "}")
            if depth == 0:
                break
            self.at += 1
        body = "".join(t.group() for t in self.tokens[start + 1:self.at]).strip()
        self.words.append("{}" if not body else "{...}")
        is_function = "(" in self.words and ("=" not in self.words[:self.words.index("(")] or
                                            "operator" in self.words)
        if not is_function:
            self.words.pop()
        return is_function

    def open(self, kind, head, declaration):
        if kind == "namespace":
            self.scopes.append(Scope(kind, ""))
            self.scopes[-1].is_hidden = "detail" in self.words
            self.start()
            return
        name = re.search(r"(?:class|struct|union|enum) (?:\[ \[ \w+ \] \] )?(\w+)", head)
        self.note(declaration)
        is_public = self.is_public()
        self.scopes.append(Scope(kind, name.group(1) if name else ""))
        self.scopes[-1].has_comment = self.is_documented
        self.scopes[-1].is_hidden = not is_public
        self.start()

    def close(self):
        self.settle()
        if self.scopes:
            self.scopes.pop()
        self.start()

    def is_public(self):
        return all(s.is_public and not s.is_hidden for s in self.scopes)

    def note(self, declaration):
        self.settle()
        if not self.is_public() or self.is_exempt(self.words):
            return
        self.seen += 1
        is_alias = "using" in self.words
        follows = is_alias and self.alias_line in (self.first_line, self.first_line - 1)
        of_enum = self.in_enum() and self.scopes[-1].has_comment
        if is_alias and (self.is_documented or follows):
            self.alias_line = self.line
        if not (self.is_documented or follows or of_enum):
            self.last = (self.first_line, declaration)

    def settle(self):
        """No ///< has followed."""
        if self.last:
            line, declaration = self.last
            declaration = re.sub(r" ?(::|[(),<>&\[\]]) ?", r"\1", declaration)
            self.missing.append("%s:%d: %s" % (self.path, line, declaration[:90]))
        self.last = None

    def is_exempt(self, words):
        text = " ".join(words)
        owner = self.scopes[-1].name if self.scopes else ""
        if re.search(r"= (default|delete)$|\boverride\b|^friend\b|^using (?!\w+ =)|^static_assert|~ ?\w+ \(", text):
            return True
        if re.search(r"\boperator (==|!=|<=>|<) ", text):
            return True
        if re.search(r"\boperator = \( \w+ && \)", text):
            return True
        if text.startswith("extern template") or text.startswith("template < >"):
            return True
        if not owner or not re.match(r"(\[ \[ \w+ \] \] )?(template < .*? > )?(constexpr |explicit )*%s \(" % owner, text):
            return False
        arguments = text[text.index("("):]
        return text.endswith("{}") or "," not in arguments


def main(folders):
    seen, missing = 0, []
    for folder in folders:
        for path in sorted(pathlib.Path(folder).rglob("*.hpp")):
            reader = Reader(path)
            reader.run()
            seen += reader.seen
            missing += reader.missing
    print("%d public declarations, %d without a comment" % (seen, len(missing)))
    if missing:
        sys.exit("\n".join(missing))


if __name__ == "__main__":
    main(sys.argv[1:])

"""The core's built objects use no clock, file, socket, environment, locale or database: read from their symbols."""
import re
import shutil
import subprocess

import rooms

FORBIDDEN = [
    ("a clock", r"std::chrono::_V2::\w+_clock::now|\b(?:clock_gettime|gettimeofday|time|clock|timespec_get)$"),
    ("the calendar of the machine", r"\b(?:localtime|localtime_r|mktime|tzset|gmtime|strftime)$"),
    ("a file", r"\b(?:fopen|fopen64|open|open64|openat|creat|stat|mmap|mmap64|unlink|rename)$|std::\w*:*basic_[io]?f(?:stream|ilebuf)|std::filesystem"),
    ("a stream of the process", r"\bstd::(?:cout|cerr|clog|cin)\b|\b(?:printf|puts|stdout|stderr|fwrite)$"),
    ("a socket", r"\b(?:socket|connect|bind|listen|accept|accept4|send|recv|getaddrinfo)$"),
    ("a process or a thread", r"\b(?:fork|execve|system|popen|pthread_create)$|std::thread::"),
    ("the environment", r"\b(?:getenv|secure_getenv|setenv)$"),
    ("chance", r"std::random_device|\b(?:rand|random|getrandom)$"),
    ("the locale", r"\b(?:setlocale|localeconv|newlocale|strtod|strtof|atof|toupper|tolower|isalpha|isspace|isdigit)$|std::locale"),
    ("a database", r"\bsqlite3_|\bPQ[a-z]"),
]
PATTERNS = [(what, re.compile(pattern)) for what, pattern in FORBIDDEN]

# Exceptions: (room, symbol as nm prints it) -> why it does no harm.
JSON_NUMBERS = "nlohmann/json reads numbers with strtod and asks localeconv for the point it must undo; setlocale is refused everywhere"
ALLOWED = {(room, symbol): JSON_NUMBERS for room in ("record", "nest") for symbol in ("localeconv", "strtod")}
# Even outside the core: a changed locale would change how every library beside us reads and prints numbers.
NOWHERE = re.compile(r"\bsetlocale$|std::locale::global")


def used(library):
    """(undefined symbols, number of symbols of any kind) of a static library or object."""
    run = subprocess.run(["nm", "-C", str(library)], capture_output=True, text=True)
    lines = [l for l in run.stdout.splitlines() if re.match(r"^\s*(?:[0-9a-f]+ )?\s*[A-Za-z] ", l)]
    undefined = sorted({re.sub(r"@.*$", "", l.split(" U ", 1)[1].strip()) for l in lines if " U " in l})
    return undefined, len(lines)


def verdicts(room, library):
    undefined, count = used(library)
    if not count:
        return [f"{library.name}: no symbols read, so nothing was checked"]
    found = []
    for symbol in undefined:
        bare = symbol.split("(")[0] if not symbol.startswith("std::") else symbol
        for what, pattern in PATTERNS:
            if pattern.search(bare) and (room, symbol) not in ALLOWED:
                found.append(f"{library.name}: uses {what}: {symbol}")
    return found


def problems(root, build=None):
    if build is None:
        return ["needs --build, a build folder"]
    if not shutil.which("nm"):
        return ["nm is not installed"]
    found, checked = [], 0
    for room, (_, core) in rooms.table(root).items():
        if not core or not any((root / "src" / room).glob("*.cpp")):
            continue
        libraries = list(build.glob(f"src/**/liblampside_{room}.a"))
        if not libraries:
            found.append(f"liblampside_{room}.a: not built in {build.name}")
        for library in libraries:
            checked += 1
            found += verdicts(room, library)
    for library in sorted(build.glob("src/**/liblampside_*.a")):
        found += [f"{library.name}: changes the locale: {symbol}" for symbol in used(library)[0]
                  if NOWHERE.search(symbol.split("(")[0])]
    return found if checked else [*found, "no library of the core was found"]


def _build(root, room, body):
    where = root / "build/src" / room
    where.mkdir(parents=True)
    library, source, made = where / f"liblampside_{room}.a", root / f"src/{room}/{room}.cpp", []
    source.write_text(body)
    if body:
        made = [str(where / "x.o")]
        subprocess.run(["c++", "-std=c++20", "-O1", "-c", str(source), "-o", *made], check=True)
    subprocess.run(["ar", "rcs", str(library), *made], check=True)


def _library(body, beside=""):
    def plant(root):
        rooms._tree(root)
        # Of the four rooms only "low" is core.
        page = rooms.PAGE.replace("| yes |", "| no |").replace("| `low` | x | - | no |", "| `low` | x | - | yes |")
        (root / "docs/rooms.md").write_text(page)
        _build(root, "low", body)
        if beside:
            _build(root, "top", beside)
    return plant


TWINS = [
    ("clean code", _library("#include <string>\nstd::string f(std::string s) { return s + s; }\n"), None),
    ("reads the clock", _library("#include <chrono>\nauto f() { return std::chrono::system_clock::now(); }\nauto g = &f;\n"), "a clock"),
    ("asks for the time of day in C", _library("#include <ctime>\nlong f() { return time(nullptr); }\n"), "a clock"),
    ("opens a file", _library("#include <fstream>\nint f() { std::ifstream in(\"x\"); return in.get(); }\n"), "a file"),
    ("opens a file in C", _library("#include <cstdio>\nvoid* f() { return fopen(\"x\", \"r\"); }\n"), "a file"),
    ("opens a socket", _library("#include <sys/socket.h>\nint f() { return socket(1, 1, 0); }\n"), "a socket"),
    ("reads the environment", _library("#include <cstdlib>\nchar* f() { return getenv(\"TZ\"); }\n"), "the environment"),
    ("asks the locale", _library("#include <cstdlib>\ndouble f(char* s) { return strtod(s, nullptr); }\n"), "the locale"),
    ("calls the database", _library("extern \"C\" int sqlite3_open(const char*, void**);\nint f() { return sqlite3_open(\"\", nullptr); }\n"),
     "a database"),
    ("an empty library", _library(""), "no symbols read"),
    ("a room that may read the clock", _library("int f() { return 1; }\n", "#include <ctime>\nlong g() { return time(nullptr); }\n"), None),
    ("another room sets the locale", _library("int f() { return 1; }\n", "#include <clocale>\nvoid g() { setlocale(LC_ALL, \"\"); }\n"),
     "liblampside_top.a: changes the locale"),
]

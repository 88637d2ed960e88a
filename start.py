#!/usr/bin/env python3
"""Sets toilewright up in a private environment beside this file, and runs it.

    python3 start.py                    the worktable, in the browser
    python3 start.py demo               the main job on the choir's demo pattern, files in ./demo-out
    python3 start.py test               sets up what the tests need and runs them
    python3 start.py bench [NAME]       measures speed (--json for machines)
    python3 start.py make my.toml ...   any other words go to the program itself

Standard library only; after the first time it needs no network.
"""
# Old Pythons must still be able to read this file in order to say that they are too old:
# no f-strings, no annotations.
import glob
import hashlib
import os
import shutil
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
HOME = os.path.join(HERE, ".toilewright-env")
LOCKS = {"run": os.path.join(HERE, "requirements", "run.lock"),
         "test": os.path.join(HERE, "requirements", "test.lock")}


def stop(sentence):
    """Say one sentence and leave."""
    sys.stderr.write(sentence + "\n")
    sys.exit(2)


def check_python():
    """Is this Python new enough, and can it make environments?"""
    if sys.version_info < (3, 11):
        stop("toilewright needs Python 3.11 or newer, and this is Python %d.%d; install a newer one "
             "(python.org, or your system's packages) and start again with it." % sys.version_info[:2])
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError:
        stop("This Python comes without its 'venv' module; on Debian and Ubuntu "
             "'sudo apt install python3-venv' brings it, then start again.")


def python_of(home):
    """The interpreter inside an environment."""
    if os.name == "nt":
        return os.path.join(home, "Scripts", "python.exe")
    return os.path.join(home, "bin", "python")


def fingerprint(kind):
    """What the environment was made from: lock, project file, interpreter and place."""
    h = hashlib.sha256()
    for path in (LOCKS[kind], os.path.join(HERE, "pyproject.toml")):
        with open(path, "rb") as f:
            h.update(f.read())
    # Of an environment's own interpreter, the one that it was made with: both mean the same environment.
    interpreter = os.path.realpath(getattr(sys, "_base_executable", None) or sys.executable)
    h.update(("%r %s %s" % (sys.version_info[:2], interpreter, HERE)).encode())
    return h.hexdigest()


def is_ready(kind):
    """Was the environment finished for this lock, or for a larger one?"""
    for each in ("test",) if kind == "test" else ("run", "test"):
        try:
            with open(os.path.join(HOME, each + ".ready"), encoding="ascii") as f:
                if f.read() == fingerprint(each):
                    return True
        except OSError:
            pass
    return False


def set_up(kind):
    """Make the environment, unless it is there already."""
    if is_ready(kind):
        return
    sys.stderr.write("Setting up toilewright in %s (once; needs the network) ...\n" % HOME)
    if not is_ready("run"):
        make_environment()
    pip = [python_of(HOME), "-m", "pip", "--disable-pip-version-check", "--no-input", "install", "-q"]
    run_pip(pip + ["--require-hashes", "--only-binary", ":all:", "-r", LOCKS[kind]])
    run_pip(pip + ["--no-deps", "--no-build-isolation", "--no-index", "-e", HERE])
    # The search's inner loops, compiled now rather than within the first lay; should that fail, the lay compiles them.
    subprocess.call([python_of(HOME), "-m", "toilewright.packing.ready"], stdout=subprocess.DEVNULL,
                    stderr=subprocess.DEVNULL)
    with open(os.path.join(HOME, kind + ".ready"), "w", encoding="ascii") as f:
        f.write(fingerprint(kind))


def make_environment():
    """A new, empty environment; whatever was there was made from other versions."""
    import venv
    if os.path.realpath(sys.prefix) == os.path.realpath(HOME):
        stop("The private environment in %s has to be made anew and cannot do that itself; start this with the Python "
             "of your system: python3 start.py" % HOME)
    for each in LOCKS:
        try:
            os.remove(os.path.join(HOME, each + ".ready"))
        except OSError:
            pass
    try:
        venv.EnvBuilder(clear=True, with_pip=True).create(HOME)
    except (OSError, subprocess.CalledProcessError) as problem:
        stop("The private environment could not be made in %s (%s); check that the folder can be written to "
             "and that the disk is not full." % (HOME, problem))


def run_pip(command):
    """Run pip; say in one sentence what is missing when it fails."""
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, universal_newlines=True)
    if done.returncode == 0:
        return
    text = done.stderr
    last = [line for line in text.splitlines() if line.strip()][-1:] or ["no message"]
    if any(sign in text for sign in ("NewConnectionError", "ConnectTimeout", "Max retries", "Temporary failure",
                                     "name resolution", "ProxyError", "Network is unreachable")):
        stop("The libraries could not be fetched because the package index cannot be reached; "
             "connect to the network for this first start and try again.")
    if "hash" in text.lower() and "match" in text.lower():
        stop("A fetched library is not the one that the lock file names, so it was not installed; "
             "try again later or on another network. (%s)" % last[0].strip())
    stop("The libraries could not be installed: %s" % last[0].strip())


def missing_packages():
    """Debian's packages that the tests need and this machine lacks: a browser, and a database server."""
    missing = []
    if not (os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")):
        missing.append("chromium")
    if not (os.environ.get("TOILEWRIGHT_NO_POSTGRES") or shutil.which("initdb")
            or glob.glob("/usr/lib/postgresql/*/bin/initdb")):
        missing.append("postgresql")
    return missing


def bring_packages(packages):
    """Install packages of the system, where that can be done without asking; else say which are wanted."""
    if not packages:
        return
    apt, root = shutil.which("apt-get"), hasattr(os, "geteuid") and os.geteuid() == 0
    if not apt or not (root or can_sudo()):
        stop("The tests need %s; install it (on Debian and Ubuntu: sudo apt-get install %s), then start them again."
             % (" and ".join(packages), " ".join(packages)))
    sys.stderr.write("Installing %s for the tests (once; needs the network) ...\n" % " and ".join(packages))
    ahead = ([] if root else ["sudo", "-n"]) + ["env", "DEBIAN_FRONTEND=noninteractive", apt, "-qq"]
    for rest in (["update"], ["install", "-y", "--no-install-recommends"] + packages):
        done = subprocess.run(ahead + rest, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                              stderr=subprocess.PIPE, universal_newlines=True)
        if done.returncode:
            last = [line for line in done.stderr.splitlines() if line.strip()][-1:] or ["no message"]
            stop("%s could not be installed for the tests: %s" % (" and ".join(packages), last[0].strip()))


def can_sudo():
    """May commands be run as root without a password?"""
    return bool(shutil.which("sudo")) and not subprocess.call(
        ["sudo", "-n", "true"], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def main(words):
    """Do what the words ask for; the exit code is the program's own."""
    check_python()
    words = words or ["worktable"]
    first = words[0]
    set_up("test" if first == "test" else "run")
    python = python_of(HOME)
    if first == "test":
        bring_packages(missing_packages())
        rest = words[1:] or ["-n", "auto"]
        command, folder = [python, "-m", "pytest"] + rest, HERE
    elif first == "bench":
        command, folder = [python, os.path.join(HERE, "benchmarks", "run.py")] + words[1:], None
    elif first == "demo" and "--out" not in words:
        command, folder = [python, "-m", "toilewright", "demo", "--out", "demo-out"] + words[1:], None
    else:
        command, folder = [python, "-m", "toilewright"] + words, None
    return become(command, folder)


def become(command, folder):
    """Run a program in this one's place, so that whatever ends this one ends that one, in order."""
    if os.name == "posix":
        if folder:
            os.chdir(folder)
        os.execv(command[0], command)
    program = subprocess.Popen(command, cwd=folder)
    while True:
        try:
            return program.wait()
        except KeyboardInterrupt:
            pass  # the program was told as well, and ends when everything is in order


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

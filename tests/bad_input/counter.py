"""The command line, loaded once and run many times: each command in a process of its own, with limits.

Reads one command a line (JSON: words, folder, where to put what is said) and answers with its exit code.
"""

import json
import os
import resource
import sys
import traceback

MEMORY = 2 << 30
"""bytes of address space that a command may take."""

SECONDS = 20
"""seconds of computing that a command may take."""


def serve():
    import toilewright.cli
    import toilewright.make.deliver  # loaded here, so that no command has to
    for line in sys.stdin:
        asked = json.loads(line)
        child = os.fork()
        if child == 0:
            run(toilewright.cli.main, **asked)
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)


def run(main, words, folder, said, largest):
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    for number in (1, 2):
        os.dup2(os.open(f"{said}{number}", os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), number)
    if largest is not None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (largest, largest))
    os.chdir(folder)
    sys.argv = ["toilewright", *words]
    code = 0
    try:
        main()
    except SystemExit as end:
        code = end.code or 0
    except BaseException:
        traceback.print_exc()
        code = 70
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


if __name__ == "__main__":
    serve()

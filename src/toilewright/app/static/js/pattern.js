// One pattern, looked through.

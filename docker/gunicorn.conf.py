"""The web server in a container: more threads or processes by environment, nothing else to decide."""

import os

bind = f"{os.environ.get('HOST', '0.0.0.0')}:{os.environ.get('PORT', '8000')}"
worker_class = "gthread"
workers = int(os.environ.get("WEB_PROCESSES", "1"))
threads = int(os.environ.get("WEB_THREADS", "8"))
timeout = 60
graceful_timeout = 10
worker_tmp_dir = "/dev/shm" if os.path.isdir("/dev/shm") else None
control_socket_disable = True
loglevel = "warning"

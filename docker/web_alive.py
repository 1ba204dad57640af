"""Exit with 0 when the site answers under its own name: the health check of the web container."""

import os
import urllib.request
from urllib.parse import urlsplit

port = os.environ.get("PORT", "8000")
host = urlsplit(os.environ.get("SITE_URL", "")).hostname or "localhost"
request = urllib.request.Request(f"http://127.0.0.1:{port}/healthz", headers={"Host": host})
urllib.request.urlopen(request, timeout=4)  # raises, and so fails, on anything but a good answer

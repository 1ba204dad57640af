"""The web application, as the web server serves it."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bibrack.settings.live")
application = get_wsgi_application()

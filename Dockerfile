# Debian and glibc, because the solver and the database driver come as wheels for those.
FROM python:3.11.13-slim-bookworm AS build
ENV UV_PYTHON_DOWNLOADS=never UV_LINK_MODE=copy UV_COMPILE_BYTECODE=1
WORKDIR /app
RUN pip install --no-cache-dir uv==0.13.9
COPY pyproject.toml uv.lock ./
RUN uv sync --frozen --no-dev
COPY . .
# Neither value is kept: collecting static files asks for no secret and no database.
RUN SECRET_KEY=build DATABASE_URL=postgres://build@localhost/build STATIC_ROOT=/app/static_built \
    .venv/bin/python manage.py prepare --only-static

FROM python:3.11.13-slim-bookworm
RUN groupadd --gid 10001 bibrack && useradd --uid 10001 --gid 10001 --no-create-home --shell /usr/sbin/nologin bibrack \
    && install -d -o bibrack -g bibrack /data
COPY --from=build /app /app
WORKDIR /app
ENV PATH=/app/.venv/bin:$PATH PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1 \
    MALLOC_ARENA_MAX=2 MALLOC_TRIM_THRESHOLD_=131072 \
    DATA_DIR=/data STATIC_ROOT=/app/static_built PORT=8000
USER bibrack
EXPOSE 8000
CMD ["python", "manage.py", "serve", "--prepared"]

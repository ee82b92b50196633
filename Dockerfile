# Built in three stages; runs as a user without rights, with the book in /data.
# Bases are arguments, so that a workshop without a public registry can name its own.
# Where others open it by a name or address of the host, give that in SKINPIN_HOSTS.
ARG BASE_NODE=node:20-slim
ARG BASE_PYTHON=python:3.12-slim

FROM ${BASE_NODE} AS page
WORKDIR /build
COPY package.json package-lock.json .npmrc tsconfig.json vite.config.ts ./
RUN npm ci --ignore-scripts --no-progress
COPY sync/typescript sync/typescript
COPY backend/skinpin/domain/tables backend/skinpin/domain/tables
COPY frontend frontend
RUN npm run build

FROM ${BASE_PYTHON} AS packages
WORKDIR /build
RUN python3 -m venv /skinpin
COPY requirements.lock ./
RUN /skinpin/bin/pip install --no-cache-dir --require-hashes -r requirements.lock
COPY pyproject.toml hatch_build.py README.md LICENSE ./
COPY sync/python sync/python
COPY sample_data sample_data
COPY backend backend
COPY --from=page /build/backend/skinpin/web/static backend/skinpin/web/static
RUN /skinpin/bin/pip install --no-cache-dir --no-deps --no-build-isolation .

FROM ${BASE_PYTHON}
RUN groupadd --gid 10001 skinpin \
 && useradd --uid 10001 --gid 10001 --no-create-home --shell /usr/sbin/nologin skinpin \
 && mkdir /data && chown skinpin:skinpin /data
COPY --from=packages /skinpin /skinpin
ENV PYTHONDONTWRITEBYTECODE=1 PYTHONUNBUFFERED=1
USER 10001:10001
VOLUME /data
EXPOSE 8703
HEALTHCHECK --interval=30s --timeout=5s --start-period=20s CMD ["/skinpin/bin/python", "-c", \
 "import urllib.request as u; u.urlopen('http://127.0.0.1:8703/api/health', timeout=4)"]
# One process: only one may own a SQLite file.
ENTRYPOINT ["/skinpin/bin/skinpin"]
CMD ["serve", "--data", "/data", "--port", "8703", "--host", "0.0.0.0"]

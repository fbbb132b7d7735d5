#!/bin/sh
# Builds the pages into web/dist. Installs the packages of package-lock.json when they are not there
# or another set is.
set -eu
cd "$(dirname "$0")/.."
if ! cmp -s package-lock.json node_modules/.rollwright-lock; then
  npm ci --no-audit --no-fund --loglevel=error || {
    echo "build_pages: the npm packages cannot be fetched: is there a network?" >&2
    exit 1
  }
  cp package-lock.json node_modules/.rollwright-lock
fi
npm run --silent build

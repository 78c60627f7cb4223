#!/bin/sh
# A browser and a PDF renderer for the tests, through the system's packages, when they are missing and that is allowed.
set -u
want=""
command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1 || want="chromium"
command -v pdftoppm >/dev/null 2>&1 || want="$want poppler-utils"
[ -n "$want" ] || exit 0
if ! command -v apt-get >/dev/null 2>&1; then
    echo "not installed:$want (no apt-get here); tests that need it will fail" >&2
    exit 0
fi
as_root=""
[ "$(id -u)" = 0 ] || as_root="sudo -n"
echo "installing $want through the system's packages"
$as_root apt-get update -qq && DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends $want >/dev/null \
    || echo "could not install:$want; tests that need it will fail" >&2
exit 0

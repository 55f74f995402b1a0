#!/bin/sh
# Starts the plugin with a Node that is new enough. Where there is none it says so in a sentence that the editor
# shows, and ends without output, so that the drawing stays as it is.
here=$(dirname "$0")
recorded=$(cat "$here/node-path" 2>/dev/null)
seen=
for node in "$recorded" "$(command -v node)" /usr/local/bin/node /opt/homebrew/bin/node /usr/bin/node \
  "$HOME"/.volta/bin/node "$HOME"/.local/bin/node "$HOME"/.nvm/versions/node/*/bin/node; do
  [ -n "$node" ] && [ -x "$node" ] || continue
  version=$("$node" --version 2>/dev/null) || continue
  version=${version#v}
  seen=${seen:-$version}
  major=${version%%.*}
  minor=${version#*.}
  minor=${minor%%.*}
  case "$major$minor" in '' | *[!0-9]*) continue ;; esac
  if [ "$major" -gt 20 ] || { [ "$major" -eq 20 ] && [ "$minor" -ge 19 ]; }; then
    exec "$node" "$here/tuckline.cjs" "$@"
  fi
done
if [ -n "$seen" ]; then
  echo "Tuckline needs Node 20.19 or later, and finds only Node $seen: install a newer one from nodejs.org, and run \"tuckline install inkscape\" again." >&2
else
  echo "Tuckline needs Node 20.19 or later, and finds none on this computer: install it from nodejs.org, and run \"tuckline install inkscape\" again." >&2
fi
exit 1

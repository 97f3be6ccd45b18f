#!/usr/bin/env bash
# From a bare Debian 12 machine to a staged scene (demo) or a tested tree (test).
set -Eeuo pipefail
export LC_ALL=C.UTF-8

usage() {
  cat <<'TEXT'
usage: bash third_party/bootstrap.sh COMMAND
  demo    install what is missing, build, check the demo scene, write its sheets and pictures to out/
  test    install what is missing, build everything, run every test, then again with sanitizers
  build   install what is missing and build the program: build/standpoint
TEXT
}

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
top=$(dirname "$here")
build=${STANDPOINT_BUILD:-$top/build}
step="starting"
advice="read the lines above; they name the cause"

failed() {
  trap - ERR EXIT
  echo "bootstrap: failed while $step. What to do: $advice." >&2
  exit "${1:-1}"
}
trap 'failed $?' ERR

begin() { # step, advice on failure
  step=$1
  advice=$2
  echo "== $step"
}

packages_for() { # kinds...
  local kinds=" $* "
  while IFS=$'\t' read -r name kind _; do
    [[ $name == \#* || $kinds != *" $kind "* ]] || echo "$name"
  done <"$here/packages.tsv"
}

is_there() { # a package, or the program it is wanted for
  case $1 in
    nodejs) command -v node >/dev/null ;;
    npm) command -v npm >/dev/null ;;
    *) [[ $(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null) == installed ]] ;;
  esac
}

as_root() {
  if [[ $(id -u) == 0 ]]; then "$@"; else sudo -- "$@"; fi
}

install_packages() {
  begin "looking for packages" "run this on Debian 12 or a system with apt-get and dpkg-query"
  command -v apt-get >/dev/null && command -v dpkg-query >/dev/null || failed 1
  local missing=() name
  for name in $(packages_for "$@"); do is_there "$name" || missing+=("$name"); done
  if [[ ${#missing[@]} == 0 ]]; then
    echo "all there"
    return
  fi
  begin "installing ${missing[*]}" \
    "become root or install sudo, connect to the network, then run this again"
  [[ $(id -u) == 0 ]] || command -v sudo >/dev/null || failed 1
  as_root apt-get update -qq
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
    "${missing[@]}" >/dev/null
}

install_node_modules() {
  local name version
  export STANDPOINT_NODE_MODULES=$build/node_modules
  while IFS=$'\t' read -r name version _; do
    [[ $name != \#* ]] || continue
    if [[ ! -d $STANDPOINT_NODE_MODULES/$name ]]; then
      begin "installing npm package $name $version" \
        "connect to the npm registry, then run this again"
      mkdir -p "$build"
      npm install --loglevel error --no-save --no-audit --no-fund --prefix "$build" "$name@$version" >/dev/null
    fi
  done <"$here/npm.tsv"
}

jobs_that_fit() { # a compiler needs up to 1.5 GB
  local by_memory
  by_memory=$(awk '/MemAvailable/ {print int($2 / 1500000)}' /proc/meminfo)
  local cores
  cores=$(nproc)
  ((by_memory < cores)) && cores=$by_memory
  ((cores < 1)) && cores=1
  echo "$cores"
}

build_tree() { # folder, target, cmake options...
  local folder=$1 target=$2
  shift 2
  begin "building $target in $(basename "$folder")" \
    "see the compiler's message above; a full disk or too little memory (1.5 GB) also ends here"
  local launcher=()
  command -v ccache >/dev/null && launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
  mkdir -p "$folder"
  cmake -S "$top" -B "$folder" -G Ninja "${launcher[@]}" "$@" >"$folder/configure.log" 2>&1 || {
    cat "$folder/configure.log" >&2
    failed 1
  }
  cmake --build "$folder" --target "$target" -j "$(jobs_that_fit)"
}

run_tests() { # folder
  begin "running the tests of $(basename "$1")" \
    "read the failed test above; run it alone with ctest --test-dir $1 -R NAME --output-on-failure"
  ctest --test-dir "$1" --output-on-failure -j "$(nproc)"
}

demo() {
  install_packages build run window
  build_tree "$build" standpoint -DSTANDPOINT_TESTS=OFF -DSTANDPOINT_BENCHMARK=OFF
  local program=$build/standpoint scene=$top/assets-demo/low-water.scene.json out=$top/out
  begin "checking the demo scene" "free some disk space in $out and run this again"
  mkdir -p "$out"
  local found=0
  "$program" check "$scene" --json "$out/results.json" >"$out/findings.txt" || found=$?
  ((found <= 1)) || failed "$found"
  cat "$out/findings.txt"
  begin "writing sheets and pictures" "free some disk space in $out and run this again"
  "$program" sheets "$scene" -o "$out"
  "$program" export "$scene" -o "$out/low-water.glb"
  demo_pictures "$program" "$scene" "$out"
  echo
  echo "The demo has faults on purpose; the findings above are what the check is for."
  echo "Written to $out:"
  (cd "$out" && ls -1)
}

demo_pictures() { # program, scene, out
  "$1" picture "$2" -o "$3/adult-at-the-front.png" --visitor small-woman --at "8.7 m" --lane right
  "$1" picture "$2" -o "$3/child-at-the-side.png" --visitor child-4 --at "12 m" --lane right
}

run_all_tests() {
  install_packages build run window test
  install_node_modules
  build_tree "$build" all -DSTANDPOINT_TESTS=ON -DSTANDPOINT_BENCHMARK=ON
  run_tests "$build"
  build_tree "$build-sanitize" all -DSTANDPOINT_TESTS=ON -DSTANDPOINT_BENCHMARK=OFF \
    -DSTANDPOINT_SANITIZE=ON
  run_tests "$build-sanitize"
  echo "bootstrap: every test passed, plain and with sanitizers"
}

case ${1:-} in
  demo) demo ;;
  test) run_all_tests ;;
  build)
    install_packages build run window
    build_tree "$build" standpoint -DSTANDPOINT_TESTS=OFF -DSTANDPOINT_BENCHMARK=OFF
    echo "built $build/standpoint"
    ;;
  -h | --help) usage ;;
  *)
    usage >&2
    echo "bootstrap: found \"${1:-}\", expected demo, test or build" >&2
    exit 2
    ;;
esac

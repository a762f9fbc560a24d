#!/bin/sh
# A gate for a folder of routes: `sh gate.sh ROUTES`. The first run writes down the findings of now, which must then be
# committed; every later run leaves with 1 where a flight has a new finding of severity error, with 2 for a problem.
# NAVLOG_CATALOGUE names the catalogue, where names are looked up in published data.
set -eu

routes=$1
known=${NAVLOG_KNOWN:-$routes/known.json}
cache=${NAVLOG_CACHE:-.navlog-cache}

if [ ! -e "$known" ]; then
    # 1 only tells that there are errors now, which from here on are known.
    navlog check "$routes" --by-rule --write-baseline "$known" || [ $? -eq 1 ]
fi
navlog check "$routes" --baseline "$known" --cache "$cache" --jobs 2

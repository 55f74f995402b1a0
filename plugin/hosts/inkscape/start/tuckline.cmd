@echo off
rem Starts the plugin with the Node that installed it, else with the one on the path. Never tried on Windows.
setlocal
set "node=node"
if exist "%~dp0node-path" set /p node=<"%~dp0node-path"
if not exist "%node%" set "node=node"
"%node%" -e "var v=process.versions.node.split('.');process.exit(v[0]>20||(v[0]==20&&v[1]>=19)?0:1)" >nul 2>&1
if errorlevel 1 (
  echo Tuckline needs Node 20.19 or later: install it from nodejs.org, and run "tuckline install inkscape" again. 1>&2
  exit /b 1
)
"%node%" "%~dp0tuckline.cjs" %*

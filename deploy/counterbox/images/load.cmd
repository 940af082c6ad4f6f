@rem Loads the counter box: load.cmd PORT. Put avrdude.exe beside this file first.
@if "%1"=="" (echo say the port: load.cmd COM3& exit /b 2)
@cd /d "%~dp0"
avrdude -p atmega328p -c stk500v1 -b 115200 -D -P %1 -U flash:w:counterbox.hex:i

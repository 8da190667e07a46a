"""The fonts we ship, cut by `build.py` and recorded in `fonts.json`; `press/text/fonts.py` picks among them.

Takes  nothing.
Gives  files, found beside this one.
Knows  nothing: there is no code here to import at run time.
"""

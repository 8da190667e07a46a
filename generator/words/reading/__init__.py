"""How easily an owner's lines read, by counters of our own.

Takes  lines in one language.
Gives  counts of them, by `counting.count_line`.
Knows  how syllables are counted in eleven languages.
"""

"""Document control: what becomes of a protocol from one revision to the next, and of the papers made from it.

Takes  an open book, numbers or names as typed, people, the moment.
Gives  for each verb (`revise`, `approve`) the files to write and what to tell. Writes nothing.
Knows  the order of the work; what an approval holds for is said in `protocol/approval.py`.
"""

"""What a person can do, reckoned from facts: pure Python, no Django.

Facts in, verdict out, with reason values that `assessments.wording` words. The clock and the seed
are arguments: the same facts give the same verdict.
"""

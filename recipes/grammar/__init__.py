"""What a drink is at this house: pure Python, no Django.

A recipe (`spec.BuildSpec`) resolved under the house rules (`rules.HouseRules`) is the house spec
(`house_spec.HouseSpec`). Steps, strength, look-alikes, topics and fingerprints follow from that.
"""

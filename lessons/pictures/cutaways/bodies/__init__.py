"""Cut through each body, one module a kind.

What several bodies share (bonnet, packing, plugs) lives in `trim`.
"""

"""Cut through what lies between body and stem: bonnet, packing, guides, plugs and cages.

Parts that only one body has stay with that body.
"""

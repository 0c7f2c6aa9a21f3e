"""Still and moving pictures: what they show, at every place of their sliders."""

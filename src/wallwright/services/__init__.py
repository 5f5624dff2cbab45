"""Power and data: points, outlet region, loads and circuits, routes, conduit and what a drill may hit."""

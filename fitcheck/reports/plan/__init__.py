"""Plan, side and front of the car's coordinates as drawings: what is where, to scale.

- `views`     the three views, which way they are looked at
- `scene`     what a build says is where, in mm of the car, and what it does not say
- `routing`   lines and hoses of a scene
- `labels`    room for words, so that none covers another
- `paper`     scale, grid, scale bar
- `heat`      hot things with what they must be kept clear of
- `shapes`    marks of components, clips and holes; lines and hoses
- `ghosts`    what moves, in its other poses
- `named`     the tags and numbers put beside what they name
- `legend`    what stands below: key, findings, what is not drawn
- `drawing`   `plan_drawing`
"""

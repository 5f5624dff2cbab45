"""What the people on the sofa see: angles, eyes and posture, screen heights, reflections."""

"""From a scene and a size to lines of text: pure functions that know no terminal."""

// The text of the lesson that an author begins with.

#include "lesson/new_lesson.h"

namespace linefall {

const char* newLessonText() {
    return R"lesson(+++
title = "TITLE"
number = 0                  # its place in the course; 0: none
version = 1                 # one more whenever a change touches marks
minutes = 15
level = "first year"        # "first year", "second year" or "advanced"
topic = "geometry"
outcome = "Determine a length from a count of pixels, and say what the flight has to do with it."   # begins with a verb
builds_on = []              # ids of lessons that come before
feedback = "at once"        # or "after marking"
marks = "last"              # which answer counts: the "last" or the "first"

# A scene is a place, a flight and one or several instruments (A, B, ...). The first scene is that of every step that names none.
# {hall} and the like stand for what the table of variants gives.
[scene.low]
place = "place.toml"
flight = "flight.toml"
instruments = ["camera.toml"]
set = { "flight.height" = "{low}" }      # any key of: linefall keys

[scene.high]
like = "low"                             # the same, and what is set here
set = { "flight.height" = "{high}" }

# Points of the world, by name: part of a thing (foot, top, shadow foot, shadow tip), or a place on the ground.
[points]
west = { east = "-hall / 2", north = "0 m", height = "object.hall.height" }     # height: above the ground
east = { east = "hall / 2", north = "0 m", height = "object.hall.height" }
tree_foot = { object = "poplar", part = "foot" }
tree_tip = { object = "poplar", part = "shadow tip" }

# What is measured in the formed picture, with the program's own tools. No answer is written down: each is read here.
[measures]
length = { of = "ground distance", points = ["west", "east"], scene = "low" }
pixels = { of = "samples between", points = ["west", "east"], scene = "low" }
pixels_high = { of = "samples between", points = ["west", "east"], scene = "high" }

# Names for what is used more than once.
[let]
pixel = "low.A.spacing_across"
+++

# TITLE

## Read: A hall from the air

```toml step
scene = "low"
```

A camera looks straight down on a hall that lies on level ground. It flies {low.flight.height} high, and a pixel of its
picture is {pixel|m|2} wide on the ground.

```toml figure
kind = "picture"
scene = "low"
caption = "The hall from {low.flight.height}; north is at the top."
```

## Predict: The same hall from twice as high

The camera comes back and flies {high} high, twice as high as before. Nothing else changes.

```toml choice
id = "guess"
points = 0                  # a prediction costs nothing; the next step opens when it is made
ask = "How many pixels will the hall then be long?"
hints = ["Draw the camera, the two ends of the hall, and the two lines from them through the lens."]
explain = "The next step shows it."

[[option]]
text = "Half as many"
when = "abs(2 * pixels_high - pixels) <= 2"     # right when this holds: exactly one option in every variant
say = "Twice as far away, half as large in the picture."

[[option]]
text = "A quarter as many"
when = "abs(4 * pixels_high - pixels) <= 2"
name = "area for length"                        # a mistake with a name
say = "That is how the number of pixels on its roof shrinks: length times width. Here it is the length alone."

[[option]]
text = "As many as before"
when = "abs(pixels_high - pixels) <= 2"
name = "size is kept"
say = "The hall keeps its size, but a pixel covers more ground from higher up."
```

```toml because
id = "why"
ask = "I expect this because ..."
```

## Observe: From twice as high

```toml step
scene = "high"
unlock = ["flight.height"]  # what a student may change here
```

```toml figure
kind = "picture"
scene = "high"
caption = "The same hall from {high}."
```

```toml point
id = "end"
ask = "Mark the eastern end of the hall, in the middle of its width."
truth = "east"
tolerance = 3               # pixels
tolerance_says = "a hand's tremor"
hints = ["North is at the top."]
right = "There it ends."
otherwise = "Find the arrow that points north; east is to its right."

[[wrong]]
name = "west for east"
point = "west"
share = 0.25
say = "That is the western end: with north at the top, east is on the right."
```

## Measure: How long is it?

```toml step
scene = "low"
```

```toml number
id = "pixels"
ask = "How many pixels is the hall long, in the picture from {low}?"
truth = "pixels"            # read in the picture
formula = "hall * A.instrument.focal_length / (low.flight.height * A.instrument.detector_pitch)"   # what it must agree with
unit = "pixels"
tolerance = "2"
tolerance_says = "one at each end"
hints = ["Read the sample at both ends."]
right = "Good counting."
otherwise = "Count again, from the first pixel of the roof to the last."

[[wrong]]
name = "the other picture"
value = "pixels_high"
share = 0.25
say = "That is its length in the picture from {high}; the question asks for the one from {low}."

[[wrong]]
name = "metres for pixels"
value = "length / 1 m"
share = 0.25
say = "That is its length in metres. How many pixels is that?"
```

```toml number
id = "length"
points = 2
ask = "How long is the hall?"
truth = "pixels * pixel"
formula = "hall"
follow = { pixels = "pixels" }       # a slip in the question before costs once
unit = "m"
tolerance = "2 * pixel"
tolerance_says = "two pixels, {2 * pixel|m|2}"
hints = ["How wide is one pixel on the ground?"]
right = "Pixels times the width of a pixel."
otherwise = "Multiply the number of pixels by the ground that one of them covers."

[[wrong]]
name = "pixels for metres"
value = "pixels * 1 m"
share = 0.25
say = "That is the number of pixels. Each covers {pixel|m|2} of ground."

[[wrong]]
name = "pixel of the higher flight"
value = "pixels * high.A.spacing_across"
share = 0.25
say = "You took the pixel of the higher flight, which is twice as wide."
```

## Explain: Choose a flight

```toml step
scene = "low"
```

```toml plan
id = "plan"
ask = "At which height does the picture reach across at least 600 m, while a pixel stays below 3 m?"
setting = ["flight.height"]
solution = { "flight.height" = "2 km" }
hints = ["Both grow with the height."]
constraint = [
  { holds = "A.swath >= 600 m", share = 0.5, say = "The picture is {A.swath} wide." },
  { holds = "A.spacing_across < 3 m", share = 0.5, say = "A pixel is {A.spacing_across} wide." },
]

[[wrong]]
name = "lower for wider"
when = "A.swath < 300 m"
settings = { "flight.height" = "800 m" }
share = 0.1
say = "Lower down the pixels are finer, but the picture shows less: {A.swath}."
```

```toml because
id = "compare"
ask = "What did you expect of the higher flight, and what did you find?"
```

```toml variants
salt = "begin"              # a new word gives every student another variant
given = ["hall", "low", "high"]
rows = [
  ["84 m", "1100 m", "2200 m"],
  ["96 m", "1080 m", "2160 m"],
  ["72 m", "1220 m", "2440 m"],
  ["104 m", "1180 m", "2360 m"],
  ["88 m", "1060 m", "2120 m"],
  ["68 m", "1140 m", "2280 m"],
  ["92 m", "1100 m", "2200 m"],
  ["76 m", "1080 m", "2160 m"],
  ["100 m", "1220 m", "2440 m"],
  ["80 m", "1180 m", "2360 m"],
  ["110 m", "1060 m", "2120 m"],
  ["86 m", "1140 m", "2280 m"],
  ["89 m", "1140 m", "2280 m"],
  ["101 m", "1100 m", "2200 m"],
  ["77 m", "1080 m", "2160 m"],
  ["109 m", "1220 m", "2440 m"],
  ["93 m", "1180 m", "2360 m"],
  ["73 m", "1060 m", "2120 m"],
  ["97 m", "1140 m", "2280 m"],
  ["81 m", "1100 m", "2200 m"],
  ["105 m", "1080 m", "2160 m"],
  ["85 m", "1220 m", "2440 m"],
  ["115 m", "1180 m", "2360 m"],
  ["91 m", "1060 m", "2120 m"],
]
drop = []                   # numbers of variants that nobody shall get any more
```

```toml test
name = "one slip costs once"
variant = 0                 # every one
answers = { pixels = "wrong the other picture", length = "right" }
rules = { pixels = "wrong the other picture", length = "right" }
shares = { pixels = 0.25, length = 1.0 }
```

```toml test
name = "nonsense earns nothing"
answers = { pixels = "nonsense", length = "nonsense", end = "nonsense" }
shares = { pixels = 0.0, length = 0.0, end = 0.0 }
```
)lesson";
}

}  // namespace linefall

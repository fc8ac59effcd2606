#pragma once
// Over a picture or a map: arrows of what a cause does to places, and outlines of things, true and as shown.

#include <functional>
#include <string>

#include "app/picture_frame.h"

namespace linefall {

struct Desk;

/// Over a picture: from where it would show a thing without the cause to where it shows it.
void drawPlacesOver(Desk& desk, const PictureFrame& frame, int craft);
/// Over a map at datum: from true place to shown place, `place_of`: east and north on the page.
void drawPlacesOverMap(Desk& desk, const Rect& seen, int craft, const std::function<ImVec2(const Vec2&)>& place_of);
/// What the arrows and outlines are, in a line of words.
[[nodiscard]] std::string wordsOfPlaces(const Desk& desk, int craft);

}  // namespace linefall

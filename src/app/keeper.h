#pragma once
// What outlives the window: states opened and saved, and the last state of a session that ended without a goodbye.

#include <optional>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "scene/show_settings.h"

namespace linefall {

struct Desk;

/// Opens a scene file of any kind that can be flown: a state; a place, flown over by the present instruments; an
/// instrument, in place of the present picture's; a flight. What is wrong with it is listed, and the present scene keeps flying.
void openFile(Desk& desk, const std::string& path);

/// Saves the present state as NAME-NNN.toml with the next free number in a folder; returns its path. Throws InputError.
[[nodiscard]] std::string saveState(Desk& desk, const std::string& folder);

/// The ends of the profile line set in the Measure tool, as a state writes them; nothing: there is none.
struct ProfileEnds {
    ShownPixel from, to;
};
[[nodiscard]] std::optional<ProfileEnds> measuredProfile(const Desk& desk);
/// The present scene as it is kept: the clock, the picked pixel and the measured profile line in its settings.
[[nodiscard]] Scene sceneToKeep(const Desk& desk);
/// Sets the profile line of a scene that was opened in the Measure tool; does nothing when the scene has none.
void takeProfile(Desk& desk);

/// The last state of this session on disk, written now and then, taken away when the session ends as it should. A session
/// that was killed leaves it, and the next one may ask for it.
class LastState {
public:
    LastState();
    /// Takes it away.
    ~LastState();
    LastState(const LastState&) = delete;
    LastState& operator=(const LastState&) = delete;

    /// Writes the state when it changed, whole or not at all; says nothing when it cannot.
    void keep(const std::string& text);
    /// The newest state that a dead session left; nothing when there is none.
    [[nodiscard]] const std::optional<std::string>& left() const { return left_; }
    /// Forgets what was left, and takes it from the disk.
    void forget();

private:
    std::string folder_, file_, text_;
    std::optional<std::string> left_;
};

}  // namespace linefall

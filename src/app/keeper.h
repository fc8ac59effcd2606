#pragma once
// What outlives the window: states opened and saved, and the last state of a session that ended without a goodbye.

#include <optional>
#include <string>
#include <vector>

#include "scene/scene.h"

namespace linefall {

struct Desk;

/// Opens a scene file of any kind that can be flown: a state; a place, flown over by the present instruments; an
/// instrument, in place of the present picture's; a flight. What is wrong with it is listed, and the present scene keeps flying.
void openFile(Desk& desk, const std::string& path);

/// Saves the present state as NAME-NNN.toml with the next free number in a folder; returns its path. Throws InputError.
[[nodiscard]] std::string saveState(Desk& desk, const std::string& folder);

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

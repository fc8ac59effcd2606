#pragma once
// One instrument of the flight and its falling picture: which lines the screen shows, and which must be formed again.

#include <memory>
#include <string>
#include <vector>

#include "flight/formation.h"
#include "view/outline.h"
#include "view/picture.h"

namespace linefall {

/// A line that the screen should take over. Height above 1: a preview that stands for its neighbours.
struct Fallen {
    int line = 0, height = 1;
};

class Craft {
public:
    Craft(const Scene& scene, std::size_t index);

    /// Takes a changed scene. `keep_look`: brightness stays comparable with before.
    void update(const Scene& scene, bool keep_look);
    /// Forms the lines up to a time as far as a budget of milliseconds allows; returns the time up to which all are formed.
    double advance(double time_s, double budget_ms);
    /// Shows only the lines gathered by a time.
    void show(double time_s);
    void stretchAgain();

    [[nodiscard]] Formation& formation() { return *formation_; }
    [[nodiscard]] const Formation& formation() const { return *formation_; }
    [[nodiscard]] const PictureLook& look() const { return look_; }
    [[nodiscard]] int shown() const { return shown_; }
    [[nodiscard]] bool settled() const { return stale_ == 0; }
    [[nodiscard]] const std::string& title() const { return title_; }
    [[nodiscard]] const std::string& bands() const { return bands_; }
    [[nodiscard]] int version() const { return version_; }  ///< grows when the size of the image may have changed
    [[nodiscard]] const LookManner& manner() const { return manner_; }
    [[nodiscard]] const SwathEdges& edges();
    [[nodiscard]] double duration_s() const;
    /// Lines that fell since the last call.
    [[nodiscard]] std::vector<Fallen> takeFallen();

private:
    bool takeShow(const Scene& scene);
    void makeLook();
    void restale();
    void fell(int line, int height);
    void formStale(double end_ms);

    std::size_t index_;
    std::unique_ptr<Formation> formation_;
    std::string title_, bands_;
    Stretch stretch_;
    PictureLook look_;
    LookManner manner_;
    SwathEdges edges_;
    bool edges_made_ = false;
    std::vector<std::uint8_t> state_;  ///< one a line: 0 stale, 1 preview, 2 as formed
    std::vector<Fallen> fallen_;
    int shown_ = 0, stale_ = 0, version_ = 0, cursor_ = 0, pass_ = 0;
};

}  // namespace linefall

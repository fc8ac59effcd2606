#pragma once
// One instrument of the flight and its falling picture: which lines the screen shows, and which must be formed again.

#include <memory>
#include <string>
#include <vector>

#include "app/hand_sweep.h"
#include "flight/formation.h"
#include "instruments/moment.h"
#include "view/outline.h"
#include "view/picture.h"

namespace linefall {

/// A line that the screen should take over. Height above 1: a preview that stands for its neighbours.
struct Fallen {
    int line = 0, height = 1;
};

/// Lines that are being gathered: their light stands on the screen as far as it had fallen.
struct Partly {
    int line = 0, lines = 0;  ///< lines line .. line + lines - 1
    SampleRun run;
};

class Craft {
public:
    Craft(const Scene& scene, std::size_t index);

    /// Takes a changed scene. `keep_look`: brightness stays comparable with before.
    void update(const Scene& scene, bool keep_look);
    /// Forms the lines up to a time as far as a budget of milliseconds allows; returns the time up to which all are formed.
    double advance(double time_s, double budget_ms);
    /// Shows only what was gathered by a time.
    void show(double time_s);
    void stretchAgain();
    /// Bands and limits as they were kept, instead of limits from the lines of this image.
    void setLook(const std::string& bands, const PictureLook& look);
    /// From now on the line that is being gathered at a time, or the next, falls by hand alone. Its light is the core's, as flown.
    void takeByHand(double time_s);
    /// The line of sight is moved by hand over samples to this one, or (`set_down`) set down on it.
    void moveHand(int sample, bool set_down = false);
    void dropHand() { hand_.reset(); }
    [[nodiscard]] const std::optional<HandSweep>& hand() const { return hand_; }
    /// What lies on the screen of the lines after those shown, as runs of samples: by the clock, or by hand.
    [[nodiscard]] std::vector<SampleRun> partlyRuns() const;

    [[nodiscard]] Formation& formation() { return *formation_; }
    [[nodiscard]] const Formation& formation() const { return *formation_; }
    [[nodiscard]] const PictureLook& look() const { return look_; }
    [[nodiscard]] int shown() const { return shown_; }
    /// Of the lines after those shown, what had been gathered; lines == 0: nothing. By hand: its lines, and all their runs at once.
    [[nodiscard]] const Partly& partly() const { return partly_; }
    [[nodiscard]] bool gathered(Pixel pixel) const;
    [[nodiscard]] bool settled() const { return stale_ == 0 && !partly_waits_; }
    [[nodiscard]] int stale() const { return stale_; }  ///< shown lines that are not as formed yet
    [[nodiscard]] const std::string& title() const { return title_; }
    [[nodiscard]] const std::string& bands() const { return bands_; }
    [[nodiscard]] int version() const { return version_; }  ///< grows when the size of the image may have changed
    [[nodiscard]] const LookManner& manner() const { return manner_; }
    [[nodiscard]] const SwathEdges& edges();
    [[nodiscard]] double duration_s() const;
    /// Lets everything that stands as formed fall again, onto a new texture.
    void fallAgain();
    /// Lines that fell since the last call.
    [[nodiscard]] std::vector<Fallen> takeFallen();

private:
    bool takeShow(const Scene& scene);
    void makeLook();
    void restale();
    [[nodiscard]] bool standsAsFormed(int line, int lines) const;
    void fell(int line, int height);
    void formStale(double end_ms);
    [[nodiscard]] Partly partlyAt(double time_s) const;
    void formPartly(double time_s, double end_ms);

    int version_ = 0;
    std::size_t index_;
    std::unique_ptr<Formation> formation_;
    std::string title_, bands_;
    Stretch stretch_;
    PictureLook look_;
    LookManner manner_;
    SwathEdges edges_;
    bool edges_made_ = false;
    std::vector<std::uint8_t> state_;  ///< one a line: 0 stale, 1 preview, 2 as formed, on the screen's texture too
    std::vector<Fallen> fallen_;
    Partly partly_;
    std::optional<HandSweep> hand_;
    bool partly_waits_ = false;  ///< lines that are gathered in part are still to be formed
    int shown_ = 0, stale_ = 0, cursor_ = 0, pass_ = 0;
};

}  // namespace linefall

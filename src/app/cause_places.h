#pragma once
// What a cause does to places, made in the background: arrows from where the picture would show a thing to where it does,
// and the outlines of things, true and as shown.

#include <memory>
#include <string>
#include <vector>

#include "app/cause_study.h"
#include "base/threads.h"
#include "flight/displacement.h"

namespace linefall {

class CausePlaces {
public:
    struct Places {
        std::vector<Displacement> arrows;
        std::vector<Ghost> ghosts;
    };
    /// One turn of the loop: takes what is done, starts what is asked for.
    void frame(const Session& session);
    [[nodiscard]] bool busy() const { return maker_.running() || maker_.ended(); }
    /// Null until they are made for the scene as it is, or when they are not asked for.
    [[nodiscard]] const Places* of(std::size_t craft) const;

private:
    struct Job {
        std::string key;
        std::vector<Places> places;
    };
    std::shared_ptr<Job> job_;
    std::vector<Places> places_;
    std::string key_;      ///< what places_ were made for
    int checked_ = -1;     ///< version of the scene that asked_ was made from
    Cause checked_cause_ = Cause::relief;
    std::string asked_;
    Background maker_;  // last: its job ends before what it uses
};

/// What the looks of all instruments of a scene depend on, as text: equal text, equal places.
[[nodiscard]] std::string placesKey(const Scene& scene);

}  // namespace linefall

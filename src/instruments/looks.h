#pragma once
// The kept look: where every contribution of a line met the ground. It is the record; image and trace both read it.

#include <cstdint>
#include <span>
#include <vector>

#include "base/motion.h"
#include "ground/ground.h"
#include "instruments/instrument.h"

namespace linefall {

/// Contributions of one line, sample by sample: contribution k of sample s stands at s * contributions + k.
/// Points in metres, world frame; normals unit; single precision (half a millimetre in a place of 8 km).
struct LineLooks {
    int samples = 0;
    int contributions = 1;
    std::vector<float> x_m, y_m, z_m;
    std::vector<float> nx, ny, nz;
    std::vector<float> sky_share;  ///< filled by seeSky
    std::vector<std::uint16_t> material;
    std::vector<Meets> meets;

    [[nodiscard]] bool empty() const { return meets.empty(); }
    void resize(int sample_count, int contribution_count);
};

/// Looks back along every line of sight of one line. `offsets`: one a contribution. `lean`: factor on relief
/// displacement alone. Pure: the same arguments give the same looks.
void lookBack(const Instrument& instrument, const Motion& motion, const Ground& ground, std::span<const Offset> offsets,
              double lean, bool sweep_motion, int line, LineLooks& out);

/// How much of the sky each contribution sees; part of the kept look, since no sun or air changes it.
void seeSky(const Ground& ground, LineLooks& looks);

/// The world ray of one look, after leaning.
[[nodiscard]] Ray lookRay(const Instrument& instrument, const Motion& motion, const Offset& offset, double lean,
                          bool sweep_motion, int line, int sample);

/// A ray through the same point of the datum, with its horizontal run multiplied: displaces relief, and nothing else.
[[nodiscard]] Ray leaned(const Ray& ray, double lean);

}  // namespace linefall

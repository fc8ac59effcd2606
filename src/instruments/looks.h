#pragma once
// The kept look: where every contribution of a line met the ground. It is the record; image and trace both read it.

#include <cstdint>
#include <span>
#include <vector>

#include "base/motion.h"
#include "ground/ground.h"
#include "instruments/instrument.h"
#include "physics/effects.h"

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

/// Causes of an image's geometry that may be taken away or exaggerated, the same for every instrument.
struct LookManner {
    double lean = 1.0;         ///< factor on relief displacement alone; 0: none
    bool sweep_motion = true;  ///< false: the platform stands still while a line is gathered
    bool perspective = true;   ///< false: all lines of sight are parallel, see parallelOrigin
};
[[nodiscard]] LookManner lookManner(const FlightSettings& flight, const EffectSettings& effects);

/// Looks back along every line of sight of one line. `offsets`: one a contribution.
/// Pure: the same arguments give the same looks.
void lookBack(const Instrument& instrument, const Motion& motion, const Ground& ground, std::span<const Offset> offsets,
              const LookManner& manner, int line, LineLooks& out);

/// How much of the sky each contribution sees; part of the kept look, since no sun or air changes it.
void seeSky(const Ground& ground, LineLooks& looks);

/// The world ray of one look: the one source of every line of sight. With perspective it leaves the platform; without,
/// the point of parallelOrigin along the platform's downward axis. Leaned last.
[[nodiscard]] Ray lookRay(const Instrument& instrument, const Motion& motion, const Offset& offset, const LookManner& manner,
                          int line, int sample);

/// All rays of one line, the same as lookRay for each and quicker: those of sample s stand at s * offsets.size().
void raysOfLine(const Instrument& instrument, const Motion& motion, std::span<const Offset> offsets, const LookManner& manner,
                int line, std::vector<Ray>& rays);

/// Where a line of sight begins without perspective, world frame, m: as through a telecentric lens as wide as the swath.
/// Beside the platform by as many nadir spacings (the instrument's own field(0, false)) as the sample lies beside the
/// middle, ahead by as many footprints as the line lies ahead of the middle of those looked at at once, in the plane
/// across the downward axis; then along that axis to flying height, so that no line of sight begins in the ground.
/// The cos^4 of the real lens is an effect of its own and stays.
[[nodiscard]] Vec3 parallelOrigin(const Instrument& instrument, const Pose& pose, const Offset& offset, int line, int sample);

/// A ray through the same point of the datum, with its horizontal run multiplied: displaces relief, and nothing else.
[[nodiscard]] Ray leaned(const Ray& ray, double lean);

}  // namespace linefall

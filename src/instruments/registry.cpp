#include "instruments/registry.h"

#include "instruments/eye.h"
#include "instruments/frame_camera.h"
#include "instruments/push_broom.h"
#include "instruments/whisk_broom.h"
#include "physics/ocular.h"
#include "physics/pigment.h"

namespace linefall {

namespace {

template <class T>
std::unique_ptr<Instrument> make(const Settings& settings, std::vector<Band> bands, const FlightFrame& flight,
                                 Problems& problems) {
    return std::make_unique<T>(settings, std::move(bands), flight, problems);
}

std::vector<Parameter> withCommon(const std::vector<Parameter>& geometry) {
    std::vector<Parameter> rows = geometry;
    const std::vector<Parameter> common = commonInstrumentRows();
    rows.insert(rows.end(), common.begin(), common.end());
    return rows;
}

/// An eye's aperture is its pupil and its answer bends: no f-number and no electrons a count are to be set.
std::vector<Parameter> ofEye() {
    std::vector<Parameter> rows = withCommon(eyeKeys().rows());
    rows.insert(rows.end(), ocularKeys().rows().begin(), ocularKeys().rows().end());
    rows.insert(rows.end(), receptorKeys().rows().begin(), receptorKeys().rows().end());
    std::erase_if(rows, [](const Parameter& row) { return row.key == "instrument.f_number" || row.key == "instrument.gain"; });
    return rows;
}

}  // namespace

const std::vector<InstrumentKind>& instrumentKinds() {
    static const std::vector<InstrumentKind> kinds{
        {"whisk-broom", "whisk broom", "a mirror sweeps across the track", withCommon(whiskBroomKeys().rows()), &make<WhiskBroom>},
        {"push-broom", "push broom", "a line of detectors is pushed along", withCommon(pushBroomKeys().rows()), &make<PushBroom>},
        {"frame-camera", "frame camera", "a whole picture at one instant", withCommon(frameCameraKeys().rows()), &make<FrameCamera>},
        {"eye", "eye", "pupil, lens and a mosaic of cones and rods: one fixation", ofEye(), &make<Eye>},
    };
    return kinds;
}

const InstrumentKind* findInstrumentKind(const std::string& name) {
    for (const InstrumentKind& kind : instrumentKinds()) {
        if (kind.name == name) return &kind;
    }
    return nullptr;
}

}  // namespace linefall

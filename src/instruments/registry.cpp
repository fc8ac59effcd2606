#include "instruments/registry.h"

#include "instruments/frame_camera.h"
#include "instruments/push_broom.h"
#include "instruments/whisk_broom.h"

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

}  // namespace

const std::vector<InstrumentKind>& instrumentKinds() {
    static const std::vector<InstrumentKind> kinds{
        {"whisk-broom", "whisk broom", "a mirror sweeps across the track", withCommon(whiskBroomKeys().rows()), &make<WhiskBroom>},
        {"push-broom", "push broom", "a line of detectors is pushed along", withCommon(pushBroomKeys().rows()), &make<PushBroom>},
        {"frame-camera", "frame camera", "a whole picture at one instant", withCommon(frameCameraKeys().rows()), &make<FrameCamera>},
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

#pragma once
// The table of instruments. A new one adds a line here and a line in CMakeLists.txt.

#include <memory>
#include <string>
#include <vector>

#include "instruments/instrument.h"

namespace linefall {

struct InstrumentKind {
    std::string name;   ///< as files spell it: "whisk-broom"
    std::string title;  ///< for people: "whisk broom"
    std::string help;
    std::vector<Parameter> rows;  ///< all declared parameters of the kind
    std::unique_ptr<Instrument> (*make)(const Settings&, std::vector<Band>, const FlightFrame&, Problems&);
};

[[nodiscard]] const std::vector<InstrumentKind>& instrumentKinds();
/// Null for an unknown name.
[[nodiscard]] const InstrumentKind* findInstrumentKind(const std::string& name);

}  // namespace linefall

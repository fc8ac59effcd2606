#include "base/trace.h"

#include <stdexcept>

namespace linefall {

double Trace::value(std::string_view symbol, int band, int contribution) const {
    for (const TraceRow& row : rows_) {
        if (row.symbol == symbol && row.band == band && row.contribution == contribution) return row.value;
    }
    throw std::out_of_range("trace has no row '" + std::string(symbol) + "' for band " + std::to_string(band) +
                            ", contribution " + std::to_string(contribution));
}

}  // namespace linefall

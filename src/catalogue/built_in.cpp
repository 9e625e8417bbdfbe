#include "loopwalk/catalogue/catalogue.hpp"

namespace loopwalk::catalogue {

// Defined in catalogue_data.cpp, which embed.cmake writes from data/*.csv.
extern const std::string_view kCablesCsv;
extern const std::string_view kDevicesCsv;
extern const std::string_view kCurvesCsv;

const CatalogueText& built_in_text() {
    static const CatalogueText text{std::string(kCablesCsv), std::string(kDevicesCsv),
                                    std::string(kCurvesCsv), "built-in cables.csv",
                                    "built-in devices.csv",  "built-in curves.csv"};
    return text;
}

} // namespace loopwalk::catalogue

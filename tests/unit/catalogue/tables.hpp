// A smallest catalogue to put one fault into at a time.
#pragma once

#include "loopwalk/base/error.hpp"
#include "loopwalk/catalogue/catalogue.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace loopwalk::catalogue {

inline const std::string kCableHeadings =
    "cable_type,description,line_r20_ohm_km,line_x_ohm_km,line_alpha,line_c,line_csa_mm2,line_k,"
    "neutral_r20_ohm_km,neutral_x_ohm_km,neutral_alpha,neutral_c,neutral_csa_mm2,neutral_k,"
    "armour_r20_ohm_km,armour_x_ohm_km,armour_alpha,armour_c,armour_csa_mm2,armour_k,"
    "cpc_r20_ohm_km,cpc_x_ohm_km,cpc_alpha,cpc_c,cpc_csa_mm2,cpc_k,earth_path,ampacity_a,source,"
    "extra";

/// Everything after cable_type and description: line, neutral and cpc, no armour.
inline const std::string kCableValues =
    "12.1,0,0.00393,70,1.5,115,12.1,0,0.00393,70,1.5,115,,,,,,,18.1,0,0.00393,70,1,115,cpc,20,"
    "a test,";

inline CatalogueText small_tables() {
    CatalogueText text;
    text.cables = kCableHeadings + "\nTwin,," + kCableValues + "\n";
    text.devices = "fuse_type,rating_a,breaking_ka,voltage_v,prearcing_i2t_a2s,total_i2t_a2s,"
                   "source\nF,6,16,230,10,20,a test\nF,10,,,,,a test\n";
    text.curves = "fuse_type,rating_a,edge,current_a,time_s,source\nF,6,slow,20,5,a test\n"
                  "F,6,slow,30,0.4,a test\n";
    return text;
}

/// The text is refused as a fault of the configuration whose message holds every part.
inline void expect_fault(const CatalogueText& text, const std::vector<std::string>& parts) {
    try {
        (void)parse_catalogue(text);
        ADD_FAILURE() << "accepted, but should be refused for: " << parts.back();
    } catch (const base::ConfigError& e) {
        for (const std::string& part : parts) {
            EXPECT_NE(std::string(e.what()).find(part), std::string::npos)
                << "'" << e.what() << "' does not say '" << part << "'";
        }
    }
}

/// The same for a cables.csv with these rows.
inline void expect_cable_fault(const std::string& rows, const std::vector<std::string>& parts) {
    CatalogueText text = small_tables();
    text.cables = kCableHeadings + "\n" + rows + "\n";
    expect_fault(text, parts);
}

} // namespace loopwalk::catalogue

// make_town FOLDER: writes town.gpkg and key.csv of the made-up town, the same bytes each time.

#include "streets.hpp"
#include "town.hpp"
#include <exception>
#include <iostream>
#include <string>

namespace {

town::Town build() {
    town::Town result;
    town::build_plain_streets(result);
    town::build_varied_streets(result);
    town::build_feeding_streets(result);
    town::build_detail_streets(result);
    town::build_record_faults(result);
    town::build_drawing_faults(result);
    town::build_joining_faults(result);
    town::build_figure_faults(result);
    town::build_reading_faults(result);
    town::build_device_faults(result);
    return result;
}

} // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "usage: make_town FOLDER\n";
        return 2;
    }
    try {
        const town::Town result = build();
        const std::string folder = argv[1];
        town::write_town(result, folder + "/town.gpkg");
        town::write_key(result, folder + "/key.csv");
        std::cout << result.columns.size() << " columns, " << result.cables.size() << " cables, "
                  << result.supplies.size() << " supplies, " << result.key.size()
                  << " findings in the key\n";
    } catch (const std::exception& error) {
        std::cerr << "make_town: " << error.what() << '\n';
        return 1;
    }
    return 0;
}

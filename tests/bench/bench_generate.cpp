// bench_generate COLUMNS OUT.gpkg: writes an invented county of that many columns.
#include "loopwalk/base/text.hpp"

#include "bench/county.hpp"
#include <cstdlib>
#include <exception>
#include <iostream>

int main(int argc, char** argv) {
    const auto columns =
        argc == 3 ? loopwalk::base::parse_number(argv[1]) : std::optional<double>();
    if (!columns || *columns < 1.0 || *columns > 5e6) {
        std::cerr << "usage: bench_generate COLUMNS OUT.gpkg (1 to 5000000 columns)\n";
        return EXIT_FAILURE;
    }
    try {
        const auto county = loopwalk::bench::make_county(static_cast<std::size_t>(*columns));
        loopwalk::bench::write_county(county, argv[2]);
        std::cout << county.columns.size() << " columns, " << county.cables.size() << " cables, "
                  << county.supplies.size() << " supplies\n";
    } catch (const std::exception& error) {
        std::cerr << "bench_generate: " << error.what() << '\n';
        return EXIT_FAILURE;
    }
    return EXIT_SUCCESS;
}

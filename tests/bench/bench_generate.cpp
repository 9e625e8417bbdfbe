// bench_generate COLUMNS OUT.gpkg [RINGED]: writes an invented county of that many columns, RINGED
// per cent of its ways closed to rings.
#include "loopwalk/base/text.hpp"

#include "bench/county.hpp"
#include <cstdlib>
#include <exception>
#include <iostream>

int main(int argc, char** argv) {
    const auto number = [&](int at, double otherwise) {
        return argc > at ? loopwalk::base::parse_number(argv[at]) : std::optional(otherwise);
    };
    const auto columns = number(1, 0.0);
    const auto ringed = number(3, 0.0);
    if (argc < 3 || argc > 4 || !columns || *columns < 1.0 || *columns > 5e6 || !ringed ||
        *ringed < 0.0 || *ringed > 100.0) {
        std::cerr << "usage: bench_generate COLUMNS OUT.gpkg [RINGED] (1 to 5000000 columns, 0 to "
                     "100 per cent of the ways ringed)\n";
        return EXIT_FAILURE;
    }
    try {
        const auto county = loopwalk::bench::make_county(static_cast<std::size_t>(*columns),
                                                         static_cast<std::uint64_t>(*ringed));
        loopwalk::bench::write_county(county, argv[2]);
        std::cout << county.columns.size() << " columns, " << county.cables.size() << " cables, "
                  << county.supplies.size() << " supplies\n";
    } catch (const std::exception& error) {
        std::cerr << "bench_generate: " << error.what() << '\n';
        return EXIT_FAILURE;
    }
    return EXIT_SUCCESS;
}

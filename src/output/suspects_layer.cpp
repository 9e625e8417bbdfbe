// Table: what may hide the ohms that readings show above their prediction.
#include "fields.hpp"
#include "writer.hpp"

namespace loopwalk::output {

void Writer::write_suspects() {
    auto writer = m_out.create_layer({"suspects",
                                      gis::GeometryKind::none,
                                      gis::SpatialIndex::no,
                                      {{"supply_id", kText},
                                       {"way", kText},
                                       {"rank", kInteger},
                                       {"suspect", kText},
                                       {"asset_layer", kText},
                                       {"asset_id", kText},
                                       {"cable_id", kText},
                                       {"extra_ohm", kReal},
                                       {"extra_low_ohm", kReal},
                                       {"extra_high_ohm", kReal},
                                       {"share", kReal},
                                       {"readings", kInteger},
                                       {"next_reading_at", kText}}},
                                     {});
    const checks::ReviewInput input{
        layers,        results.catalogue, results.job.rules,   net,
        results.trace, results.figures,   results.assumptions, results.ends};
    for (const suspects::Suspect& suspect : results.suspects) {
        const suspects::PlaceRecord record = suspects::record_of(input, suspect.places.front());
        const suspects::Explanation& found = suspect.explanation;
        gis::Row& row = writer.row();
        Cell(row, 0).set(std::string_view(explain.supply_name(suspect.infeed)));
        Cell(row, 1).set(std::string_view(explain.way_name(suspect.infeed)));
        Cell(row, 2).set(std::int64_t{suspect.rank});
        Cell(row, 3).set(std::string_view(suspects::text_of(input, suspect)));
        Cell(row, 4).set(base::layer_name(record.layer));
        Cell(row, 5).set(std::string_view(record.asset_id));
        Cell(row, 6).set(std::string_view(record.cable_id));
        Cell(row, 7).set(base::Maybe<base::Ohm>(found.extra));
        Cell(row, 8).set(base::Maybe<base::Ohm>(found.low));
        Cell(row, 9).set(base::Maybe<base::Ohm>(found.high));
        Cell(row, 10).set(base::Maybe<base::Number>(base::Number(found.share)));
        Cell(row, 11).set(std::int64_t{suspect.readings});
        Cell(row, 12).set(suspect.next_reading.is_valid()
                              ? layers.text.view(layers.columns[suspect.next_reading.index()].id)
                              : std::string_view{});
        writer.write();
    }
}

} // namespace loopwalk::output

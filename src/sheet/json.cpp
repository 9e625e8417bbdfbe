// Pages for machines: all items of all parts.
#include "loopwalk/base/text.hpp"
#include "loopwalk/sheet/sheet.hpp"

#include <nlohmann/json.hpp>

namespace loopwalk::sheet {

std::string as_json(const std::vector<Sheet>& sheets) {
    using Json = nlohmann::ordered_json;
    Json json{{"program", "loopwalk " + std::string(base::program_version())},
              {"purpose", std::string(purpose())},
              {"sheets", Json::array()}};
    for (const Sheet& sheet : sheets) {
        Json one{{"asset_layer", std::string(base::layer_name(sheet.layer))},
                 {"asset_id", sheet.id},
                 {"whose", sheet.large},
                 {"title", sheet.title}};
        for (const Part& part : sheet.parts) {
            one[part.key] = part.items;
        }
        json["sheets"].push_back(std::move(one));
    }
    json["cautions"] = output::cautions();
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace loopwalk::sheet

#include "loopwalk/base/text.hpp"
#include "loopwalk/draft/draft.hpp"

#include <algorithm>

namespace loopwalk::draft {

std::string summary_text(const Draft& draft) {
    constexpr std::size_t kNameWidth = 14;
    std::string text;
    for (const LayerGuess& layer : draft.layers) {
        std::string line(base::layer_name(layer.role));
        line.resize(kNameWidth, ' ');
        line += std::string(confidence_name(layer.confidence)) + ": \"" +
                draft.profiles[layer.profile].name + "\", fields ";
        for (const Confidence confidence :
             {Confidence::sure, Confidence::likely, Confidence::unsure}) {
            const auto count =
                std::count_if(layer.fields.begin(), layer.fields.end(),
                              [&](const FieldGuess& f) { return f.confidence == confidence; });
            line += std::to_string(count) + " " + std::string(confidence_name(confidence)) +
                    (confidence == Confidence::unsure ? "" : ", ");
        }
        text += line + "\n";
    }
    if (draft.find(base::AssetLayer::columns) == nullptr)
        text += "No layer was found that plainly holds columns: name it in the job file.\n";
    return text;
}

} // namespace loopwalk::draft

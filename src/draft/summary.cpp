#include "loopwalk/base/text.hpp"
#include "loopwalk/draft/draft.hpp"

#include <algorithm>

namespace loopwalk::draft {

namespace {

constexpr std::size_t kMostWords = 6; ///< of a field that the summary names

/// "2 words of status are left to you: 'LIV' (3 times), 'RMV' (once)"
std::string words_of(const LayerGuess& layer, const FieldGuess& field) {
    std::vector<std::string> words;
    for (const WordGuess& word : field.words.words) {
        if (word.confidence == Confidence::unsure) {
            words.push_back("'" + word.recorded + "' " + std::to_string(word.count) +
                            (word.count == 1 ? " time" : " times"));
        }
    }
    if (words.empty()) {
        return {};
    }
    const std::size_t count = words.size() + field.words.not_listed;
    std::string text = "  " + std::string(base::layer_name(layer.role)) + "." + field.field + ": ";
    text += std::to_string(count) + (count == 1 ? " word is" : " words are");
    text += " left to you: " + base::listed(words, kMostWords);
    if (field.field == "status") {
        text += "; each counts as in service until the job says otherwise";
    }
    return text + "\n";
}

/// The words of the fields that are stated which nobody but the user can know.
std::string words_text(const Draft& draft) {
    std::string text;
    for (const LayerGuess& layer : draft.layers) {
        if (layer.confidence == Confidence::unsure) {
            continue;
        }
        for (const FieldGuess& field : layer.fields) {
            if (field.is_stated()) {
                text += words_of(layer, field);
            }
        }
    }
    return text;
}

} // namespace

std::vector<std::string> warnings_of(const Draft& draft) {
    std::vector<std::string> layers;
    for (const LayerGuess& layer : draft.layers) {
        const LayerProfile& profile = draft.profiles[layer.profile];
        if (profile.looks_like_degrees()) {
            layers.push_back("'" + profile.name + "'" +
                             (profile.system.empty() ? "" : " (" + profile.system + ")"));
        }
    }
    if (layers.empty()) {
        return {};
    }
    return {"the coordinates of " + base::listed(layers, layers.size()) +
            " look like degrees, but no system of longitudes and latitudes is stated: metres would "
            "be taken for what are a hundred kilometres. Name the right one in each table of the "
            "job (crs = \"EPSG:4326\")."};
}

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
    text += words_text(draft);
    for (const std::string& warning : warnings_of(draft)) {
        text += "LOOK HERE FIRST: " + warning + "\n";
    }
    if (draft.find(base::AssetLayer::columns) == nullptr) {
        text += "No layer was found that plainly holds columns: name it in the job file.\n";
    }
    return text;
}

} // namespace loopwalk::draft

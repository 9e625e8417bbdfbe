#include "loopwalk/app/json_answer.hpp"

namespace loopwalk::app {

JsonAnswer::JsonAnswer(const std::string& path, gis::Overwrite overwrite,
                       const std::vector<std::string>& inputs,
                       const std::vector<std::string>& results)
    : m_is_printed(path == "-") {
    if (!path.empty() && !m_is_printed) {
        m_file.emplace(path, gis::TextKind::json, overwrite, inputs, results);
    }
}

void JsonAnswer::write(const std::function<std::string()>& json) {
    if (m_file.has_value()) {
        m_file->write(json());
    }
}

void JsonAnswer::publish() {
    if (m_file.has_value()) {
        m_file->publish();
    }
}

bool JsonAnswer::print(const std::function<std::string()>& json) const {
    if (m_is_printed) {
        Terminal::answer(json());
    }
    return m_is_printed;
}

} // namespace loopwalk::app

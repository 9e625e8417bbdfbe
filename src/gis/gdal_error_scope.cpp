#include "gdal_error_scope.hpp"

#include "loopwalk/base/text.hpp"

#include "memory_watch.hpp"
#include <algorithm>
#include <new>
#include <string_view>

namespace loopwalk::gis {

namespace {

constexpr std::size_t kMostMessages = 3; // a broken file can report one for every feature

void keep(std::vector<std::string>& messages, const char* message) {
    std::string_view text = base::trimmed(message);
    while (text.ends_with('.')) { // it becomes part of a sentence
        text.remove_suffix(1);
    }
    if (messages.size() < kMostMessages &&
        std::find(messages.begin(), messages.end(), text) == messages.end()) {
        messages.emplace_back(text);
    }
}

} // namespace

GdalErrorScope::GdalErrorScope() {
    CPLErrorReset();
    CPLPushErrorHandlerEx(&GdalErrorScope::collect, this);
}

GdalErrorScope::~GdalErrorScope() {
    CPLPopErrorHandler();
}

void CPL_STDCALL GdalErrorScope::collect(CPLErr level, CPLErrorNum number,
                                         const char* message) noexcept {
    auto* self = static_cast<GdalErrorScope*>(CPLGetErrorHandlerUserData());
    if (number == CPLE_OutOfMemory) {
        note_memory_refused();
    }
    end_if_fatal(level);
    if (level >= CE_Failure) {
        self->m_failed = true;
    }
    try {
        if (level >= CE_Failure) {
            keep(self->m_failures, message);
        } else if (level == CE_Warning) {
            keep(self->m_warnings, message);
        }
    } catch (const std::bad_alloc&) {
        // Called from C code: the text is lost, m_failed is not.
        self->m_failed = self->m_failed || level >= CE_Failure;
    }
}

std::string GdalErrorScope::text() const {
    std::string joined;
    for (const std::string& message : m_failures.empty() ? m_warnings : m_failures) {
        joined += joined.empty() ? message : "; " + message;
    }
    return joined.empty() ? "no reason given" : joined;
}

} // namespace loopwalk::gis

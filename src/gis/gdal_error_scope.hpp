// Collects what GDAL reports while the object lives, on this thread; nothing reaches the terminal.
// GDAL's own return values stay the first thing to test: this tells why.
#pragma once

#include <cpl_error.h>

#include <string>
#include <vector>

namespace loopwalk::gis {

class GdalErrorScope {
  public:
    GdalErrorScope();
    GdalErrorScope(const GdalErrorScope&) = delete;
    GdalErrorScope& operator=(const GdalErrorScope&) = delete;
    ~GdalErrorScope();

    /// Something worse than a warning was reported.
    [[nodiscard]] bool failed() const noexcept { return m_failed; }
    /// The first few failures, else warnings, joined; "no reason given" if there are none.
    [[nodiscard]] std::string text() const;

  private:
    static void CPL_STDCALL collect(CPLErr level, CPLErrorNum number, const char* message) noexcept;

    bool m_failed = false;
    std::vector<std::string> m_failures;
    std::vector<std::string> m_warnings;
};

} // namespace loopwalk::gis

// How long calls of the libraries learn that the user wants to stop. Whoever catches signals sets
// the check once; nothing here knows of signals.
#pragma once

namespace loopwalk::gis {

/// True once the user has asked to stop. Called often, also in the middle of a query.
using StopCheck = bool (*)() noexcept;

/// From now on a query of SQLite ends when `check` says so, and the reading of features throws
/// base::Interrupted. Null (as at the start): nothing ends it.
void set_stop_check(StopCheck check) noexcept;

/// Throws base::Interrupted if the user has asked to stop.
void stop_if_asked();

} // namespace loopwalk::gis

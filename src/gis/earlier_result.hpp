// What --overwrite may take away: an earlier result of this program, and nothing else.
#pragma once

#include "loopwalk/gis/result_files.hpp"

#include "translate.hpp"
#include <string>

namespace loopwalk::gis {

/// Whether a table or file of that name is one that a result has.
[[nodiscard]] bool is_result_layer(const std::string& name);
/// The names of those layers, each as an SQL text, with commas between.
[[nodiscard]] std::string result_layers_sql();

/// Refuses (OutputError naming `given`) what may not be replaced by a GeoPackage: something that
/// exists without `overwrite`, is no regular file, is not an earlier result, is open in another
/// program; also a journal beside it, which whoever opens the new file would apply to it.
void check_replaceable_file(const std::string& given, const std::string& target,
                            Overwrite overwrite);
/// The same for a folder of another format: it holds an earlier result and nothing else.
void check_replaceable_folder(const std::string& given, const std::string& target,
                              const FolderFormat& format, Overwrite overwrite);
/// The same for JSON and job files.
void check_replaceable_text(const std::string& given, const std::string& target, TextKind kind,
                            Overwrite overwrite);

} // namespace loopwalk::gis

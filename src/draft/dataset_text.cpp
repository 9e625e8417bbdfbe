#include "dataset_text.hpp"

#include "quoted_text.hpp"
#include <cctype>
#include <filesystem>
#include <string_view>

namespace loopwalk::draft {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kStars = "***"; // that base::without_passwords() puts over a secret

bool is_word(char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// Where `key = ` begins that ends at `stars`; npos if there is none.
std::size_t key_before(const std::string& text, std::size_t stars) {
    std::size_t at = stars;
    const auto skip = [&](auto is) {
        while (at > 0 && is(text[at - 1])) {
            --at;
        }
    };
    const auto is_blank = [](char c) { return c == ' '; };
    skip(is_blank);
    if (at == 0 || text[at - 1] != '=') {
        return std::string::npos;
    }
    --at;
    skip(is_blank);
    const std::size_t end = at;
    skip(is_word);
    return at == end ? std::string::npos : at;
}

/// A connection to PostgreSQL takes its password from elsewhere if it names none.
std::string without_stars(std::string text) {
    for (std::size_t stars = text.find(kStars); stars != std::string::npos;
         stars = text.find(kStars, stars)) {
        const std::size_t key = key_before(text, stars);
        const std::size_t end = stars + kStars.size();
        if (key != std::string::npos) {
            const bool has_blank = end < text.size() && text[end] == ' ';
            text.erase(key, end - key + (has_blank ? 1 : 0));
            stars = key;
        } else if (stars > 0 && text[stars - 1] == ':' && text.compare(end, 1, "@") == 0) {
            text.erase(stars - 1, end - stars + 1); // user:***@host
        } else {
            stars = end;
        }
    }
    while (text.ends_with(' ') || text.ends_with('?')) {
        text.pop_back();
    }
    return text;
}

bool is_postgres(const std::string& name) {
    return name.starts_with("PG:") || name.starts_with("postgresql://");
}

} // namespace

std::string dataset_text(const std::string& name, const std::string& folder) {
    std::error_code error;
    if (!fs::exists(name, error)) {
        return is_postgres(name) ? without_stars(name) : name;
    }
    const fs::path from = fs::weakly_canonical(folder.empty() ? "." : folder, error);
    const fs::path to = fs::weakly_canonical(name, error);
    const fs::path relative = error ? fs::path() : to.lexically_relative(from);
    return relative.empty() ? name : relative.string();
}

std::string dataset_remarks(const std::string& name) {
    if (!is_utf8(name)) {
        return "# LOOK: the name of this dataset is not UTF-8, which a job file has to be: \"?\" "
               "stands for\n# each byte that is not. Rename the file and put its new name "
               "here.\n";
    }
    if (is_postgres(name)) {
        return "# The password does not belong here. It is taken from ~/.pgpass (or the file that "
               "PGPASSFILE\n# names): a line host:port:database:user:password, which its owner "
               "alone may read; or from\n# the variable PGPASSWORD.\n";
    }
    if (name.find(kStars) != std::string::npos) {
        return "# *** stands for a secret, which is left out. Put it in its place only where "
               "nobody else\n# can read this file.\n";
    }
    return {};
}

} // namespace loopwalk::draft

#include "spatial_index.hpp"

#include "gpkg_contents.hpp"
#include <initializer_list>
#include <string_view>
#include <utility>

namespace loopwalk::gis {

namespace {

std::string index_name(const IndexedTable& table) {
    return "rtree_" + table.table + "_" + table.geometry;
}

/// {i}, {t}, {g}, {k} become the quoted names of index, table, geometry and key. One pass, so
/// braces in a name are left alone.
std::string filled_in(std::string_view sql, const IndexedTable& table) {
    std::string text;
    for (std::size_t i = 0; i < sql.size(); ++i) {
        if (sql[i] != '{') {
            text += sql[i];
            continue;
        }
        const char what = sql[i + 1];
        text += sql_name(what == 'i'   ? index_name(table)
                         : what == 't' ? table.table
                         : what == 'g' ? table.geometry
                                       : table.key);
        i += 2;
    }
    return text;
}

/// Puts the node tables' rows in.
class TableSink final : public RtreeSink {
  public:
    TableSink(SqliteConnection& database, const std::string& index)
        : m_node(database, "REPLACE INTO " + sql_name(index + "_node") + " VALUES (?, ?)"),
          m_parent(database, "INSERT INTO " + sql_name(index + "_parent") + " VALUES (?, ?)"),
          m_leaf(database, insertion(index + "_rowid", 1)),
          m_leaves(database, insertion(index + "_rowid", kTogether)) {}

    void node(std::int64_t node, std::span<const std::uint8_t> block) override {
        m_node.bind(1, node);
        m_node.bind(2, block);
        m_node.run();
    }
    void parent(std::int64_t node, std::int64_t parent) override {
        m_parent.bind(1, node);
        m_parent.bind(2, parent);
        m_parent.run();
    }
    void leaves(std::span<const IndexLeaf> leaves) override {
        for (; leaves.size() >= kTogether; leaves = leaves.subspan(kTogether)) {
            put(m_leaves, leaves.first(kTogether));
        }
        for (; !leaves.empty(); leaves = leaves.subspan(1)) {
            put(m_leaf, leaves.first(1));
        }
    }

  private:
    static constexpr std::size_t kTogether = 64;
    static std::string insertion(const std::string& table, std::size_t rows) {
        return "INSERT INTO " + sql_name(table) + " VALUES " + sql_rows(rows, 2);
    }
    static void put(SqliteStatement& statement, std::span<const IndexLeaf> leaves) {
        int parameter = 0;
        for (const IndexLeaf& leaf : leaves) {
            statement.bind(++parameter, leaf.id);
            statement.bind(++parameter, leaf.node);
        }
        statement.run();
    }

    SqliteStatement m_node; // replaces the empty root that SQLite made
    SqliteStatement m_parent;
    SqliteStatement m_leaf;
    SqliteStatement m_leaves; // kTogether at once
};

/// The six triggers of the standard, worded as GDAL words them.
void add_triggers(SqliteConnection& database, const IndexedTable& table) {
    const std::string put = "INSERT OR REPLACE INTO {i} VALUES (NEW.{k},ST_MinX(NEW.{g}), "
                            "ST_MaxX(NEW.{g}),ST_MinY(NEW.{g}), ST_MaxY(NEW.{g})); ";
    const std::string take = "DELETE FROM {i} WHERE id = OLD.{k}; ";
    const std::string filled = "(NEW.{g} NOTNULL AND NOT ST_IsEmpty(NEW.{g}))";
    const std::string blank = "(NEW.{g} ISNULL OR ST_IsEmpty(NEW.{g}))";
    const std::string same = "OLD.{k} = NEW.{k} AND ";
    const std::string other = "OLD.{k} != NEW.{k} AND ";
    struct Trigger {
        const char* name;
        std::string when;
        std::string body;
    };
    const std::initializer_list<Trigger> triggers = {
        {"insert", "INSERT ON {t} WHEN (new.{g} NOT NULL AND NOT ST_IsEmpty(NEW.{g}))", put},
        {"update1", "UPDATE OF {g} ON {t} WHEN " + same + filled, put},
        {"update2", "UPDATE OF {g} ON {t} WHEN " + same + blank, take},
        {"update3", "UPDATE ON {t} WHEN " + other + filled, take + put},
        {"update4", "UPDATE ON {t} WHEN " + other + blank,
         "DELETE FROM {i} WHERE id IN (OLD.{k}, NEW.{k}); "},
        {"delete", "DELETE ON {t} WHEN old.{g} NOT NULL", take},
    };
    for (const Trigger& trigger : triggers) {
        database.execute("CREATE TRIGGER " + sql_name(index_name(table) + "_" + trigger.name) +
                         " AFTER " +
                         filled_in(trigger.when + " BEGIN " + trigger.body + "END", table));
    }
}

} // namespace

void write_spatial_index(SqliteConnection& database, const IndexedTable& table,
                         std::vector<IndexEntry> entries) {
    const std::string index = index_name(table);
    database.execute("CREATE VIRTUAL TABLE " + sql_name(index) +
                     " USING rtree(id, minx, maxx, miny, maxy)");
    // SQLite derives the size of a node from the page size and reads it back from the root.
    const std::int64_t block_size = database.integer(
        "SELECT length(data) FROM " + sql_name(index + "_node") + " WHERE nodeno = 1");
    TableSink sink(database, index);
    pack_rtree(std::move(entries), static_cast<std::size_t>(block_size), sink);
    register_extension(database, table, {"gpkg_rtree_index", "rtree", "write-only"});
    add_triggers(database, table);
}

std::int64_t indexed_rows(SqliteConnection& database, const IndexedTable& table) {
    return database.integer("SELECT count(*) FROM " + sql_name(index_name(table) + "_rowid"));
}

} // namespace loopwalk::gis

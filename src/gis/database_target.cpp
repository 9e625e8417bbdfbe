// Results that are a schema of a PostGIS database. They are written into a schema of a temporary
// name, which takes the place of the other in one transaction.
// docs/decisions/002-a-schema-for-each-run.md.
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include "compare_tables.hpp"
#include "database.hpp"
#include "earlier_result.hpp"
#include "gdal_error_scope.hpp"
#include "output_place.hpp"
#include "output_target.hpp"
#include "partial_folder.hpp"
#include "publish.hpp"
#include "translate.hpp"
#include <algorithm>
#include <filesystem>
#include <optional>
#include <set>
#include <unistd.h>

namespace loopwalk::gis {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLongestName = 63; // of PostgreSQL
constexpr const char* kPartialEnding = "_partial";
/// The remark by which a schema is known to be an unfinished result; whose it is follows.
constexpr const char* kPartialRemark = "not finished: a result that loopwalk writes";

std::string name(const std::string& text) {
    return base::quoted_sql(text, '"');
}
std::string literal(const std::string& text) {
    return base::quoted_sql(text, '\'');
}

class DatabaseTarget final : public OutputTarget {
  public:
    DatabaseTarget(const std::string& connection, std::string schema, Overwrite overwrite,
                   const std::vector<std::string>& inputs)
        : m_given(base::without_passwords(connection)), m_schema(std::move(schema)),
          m_partial(m_schema + kPartialEnding), m_overwrite(overwrite) {
        if (m_schema.empty() || m_partial.size() > kLongestName) {
            refuse(m_given, "the schema \"" + m_schema + "\" is no name of at most " +
                                std::to_string(kLongestName - std::string(kPartialEnding).size()) +
                                " bytes. Name another: [output] schema");
        }
        open(connection);
        if (std::find(inputs.begin(), inputs.end(), schema_identity(*m_database, m_schema)) !=
            inputs.end()) {
            refuse(m_given, "the schema \"" + m_schema +
                                "\" is read in this run, and input is never changed. Choose "
                                "another");
        }
        lock();
        check_existing();
        remove_left_over();
        std::error_code error;
        const fs::path folder = fs::temp_directory_path(error);
        if (error) {
            refuse(m_given, "there is no folder for temporary files: " + error.message());
        }
        m_folder.emplace(m_given, folder / "loopwalk.gpkg");
        m_staging = m_folder->file("staging.gpkg");
    }
    DatabaseTarget(const DatabaseTarget&) = delete;
    DatabaseTarget& operator=(const DatabaseTarget&) = delete;
    ~DatabaseTarget() override {
        const GdalErrorScope quiet; // given up: the next run for this schema cleans up
        if (m_written && !m_published) {
            m_database->ReleaseResultSet(
                m_database->ExecuteSQL(drop_partial().c_str(), nullptr, nullptr));
        }
        m_database.reset();
    }

    [[nodiscard]] const std::string& staging() const noexcept override { return m_staging; }

    [[nodiscard]] std::vector<std::string> publish(const OutputLayers& layers) override {
        std::vector<std::string> notes = cut_names(m_given, m_staging, layers);
        run("BEGIN; CREATE SCHEMA " + name(m_partial) + "; COMMENT ON SCHEMA " + name(m_partial) +
                " IS " + literal(kPartialRemark + (" (" + process_mark(::getpid()) + ")")) +
                "; COMMIT",
            "creating the schema");
        m_written = true;
        {
            const GDALDatasetUniquePtr from(GDALDataset::Open(
                m_staging.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR));
            LW_ASSERT(from != nullptr); // it was opened and counted a moment ago
            for (const std::unique_ptr<OutputLayer>& layer : layers) {
                translate(m_given, *from, {layer->table.table}, options_for(*layer), nullptr,
                          m_database.get());
                verify(*from, *layer);
            }
        }
        check_existing(); // it may have come while this run was under way
        // Whoever reads the old tables now may finish first, but not keep this run for ever.
        run("SET lock_timeout = '60s'", "setting a limit");
        publish_as(m_given, [this] { replace(); });
        m_published = true;
        return notes;
    }

  private:
    void replace() {
        try {
            run("BEGIN; DROP SCHEMA IF EXISTS " + name(m_schema) + " CASCADE; ALTER SCHEMA " +
                    name(m_partial) + " RENAME TO " + name(m_schema) + "; COMMENT ON SCHEMA " +
                    name(m_schema) + " IS NULL; COMMIT",
                "giving the schema its name");
        } catch (const base::OutputError& error) {
            if (answers()) {
                throw; // and has rolled all of it back
            }
            throw base::OutputError(error.what() + std::string(". The connection broke, so \"") +
                                    m_schema +
                                    "\" may be complete all the same: look whether it is there");
        }
    }
    [[nodiscard]] bool answers() const {
        try {
            return ask(*m_database, "SELECT 1") == "1";
        } catch (const base::InputError&) {
            return false;
        }
    }
    [[nodiscard]] std::string drop_partial() const {
        return "DROP SCHEMA IF EXISTS " + name(m_partial) + " CASCADE";
    }
    void open(const std::string& connection) {
        const GdalErrorScope errors;
        m_database.reset(GDALDataset::Open(connection.c_str(), GDAL_OF_VECTOR | GDAL_OF_UPDATE |
                                                                   GDAL_OF_VERBOSE_ERROR));
        if (m_database == nullptr) {
            refuse(m_given, base::without_passwords(errors.text()) +
                                ". Check that the server runs, the name of the database and the "
                                "right to connect; a password may stand in ~/.pgpass");
        }
        run("SET default_transaction_read_only = off", "asking for a session that writes");
        if (value("SELECT count(*) FROM pg_extension WHERE extname = 'postgis'") != "1") {
            refuse(m_given, "the database has no PostGIS: CREATE EXTENSION postgis");
        }
    }
    /// One run at a time writes a schema. The server lets go when the session ends, however it
    /// does, so a partial schema that is found under the lock is nobody's.
    void lock() {
        if (value("SELECT pg_try_advisory_lock(hashtext('loopwalk'), hashtext(" +
                  literal(m_schema) + "))::int") != "1") {
            refuse(m_given, "another run writes the schema \"" + m_schema +
                                "\" now. Wait for it, or name another schema");
        }
    }
    /// What a run that was killed left. Under the lock nobody writes it; a schema of that name that
    /// does not say what it is is somebody's.
    void remove_left_over() {
        const std::string found =
            value("SELECT coalesce(obj_description(oid, 'pg_namespace'), '-') FROM pg_namespace "
                  "WHERE nspname = " +
                  literal(m_partial));
        if (found.empty()) {
            return;
        }
        if (!found.starts_with(kPartialRemark)) {
            refuse(m_given, "the schema \"" + m_partial +
                                "\" is in the way, and nothing says that it is what a run left "
                                "behind. Rename it, or name another schema: [output] schema");
        }
        run(drop_partial(), "removing what an earlier run left behind");
    }
    void check_existing() {
        if (value("SELECT count(*) FROM pg_namespace WHERE nspname = " + literal(m_schema)) ==
            "0") {
            return;
        }
        if (m_overwrite == Overwrite::no) {
            refuse(m_given, "the schema \"" + m_schema +
                                "\" exists. Choose another, or allow it to be replaced "
                                "(--overwrite)");
        }
        const std::string in_schema =
            " FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = " +
            literal(m_schema);
        const std::string is_result =
            value("SELECT count(*)" + in_schema +
                  " AND c.relname IN ('run', 'findings') AND c.relkind = 'r'");
        if (is_result != "2") {
            refuse(m_given, "the schema \"" + m_schema +
                                "\" is not an earlier result (it has no tables run and findings), "
                                "so it is not replaced. Choose another");
        }
        const std::string foreign =
            value("SELECT string_agg(c.relname, ', ' ORDER BY c.relname)" + in_schema +
                  " AND c.relkind IN ('r', 'v', 'm', 'f', 'p') AND c.relname NOT IN (" +
                  result_layers_sql() + ")");
        if (!foreign.empty()) {
            refuse(m_given, "the schema \"" + m_schema + "\" holds what is not of a result: " +
                                foreign + ". Choose another");
        }
    }
    std::vector<std::string> options_for(const OutputLayer& layer) const {
        std::vector<std::string> options = {"-f", "PostgreSQL", "-preserve_fid"};
        const auto create = [&options](const std::string& option) {
            options.insert(options.end(), {"-lco", option});
        };
        create("SCHEMA=" + m_partial);
        create("LAUNDER=NO");
        create("FID=" + layer.table.key);
        create(layer.index == SpatialIndex::yes ? "SPATIAL_INDEX=GIST" : "SPATIAL_INDEX=NONE");
        if (!layer.table.geometry.empty()) {
            create("GEOMETRY_NAME=" + layer.table.geometry);
        }
        return options;
    }
    void verify(GDALDataset& from, const OutputLayer& layer) {
        const GdalErrorScope errors;
        OGRLayer* written = from.GetLayerByName(layer.table.table.c_str());
        OGRLayer* there = m_database->GetLayerByName((m_partial + "." + layer.table.table).c_str());
        LW_ASSERT(written != nullptr);
        const std::string different =
            there == nullptr ? "is missing" : difference_of_rows(*written, *there);
        if (errors.failed() || !different.empty()) {
            output_failed(
                m_given, "the check of the written tables",
                "table \"" + layer.table.table + "\" " +
                    (different.empty() ? base::without_passwords(errors.text()) : different));
        }
    }
    void run(const std::string& statement, const char* doing) {
        const GdalErrorScope errors;
        m_database->ReleaseResultSet(m_database->ExecuteSQL(statement.c_str(), nullptr, nullptr));
        if (errors.failed()) {
            output_failed(m_given, doing, base::without_passwords(errors.text()));
        }
    }
    std::string value(const std::string& query) {
        try {
            return ask(*m_database, query);
        } catch (const base::InputError& error) {
            refuse(m_given, error.what());
        }
    }

    std::string m_given, m_schema, m_partial;
    Overwrite m_overwrite;
    GDALDatasetUniquePtr m_database;
    std::optional<PartialFolder> m_folder; ///< of the staging; for this user alone
    std::string m_staging;
    bool m_written = false;
    bool m_published = false;
};

} // namespace

std::unique_ptr<OutputTarget> make_database_target(const std::string& connection,
                                                   const std::string& schema, Overwrite overwrite,
                                                   const std::vector<std::string>& inputs) {
    return std::make_unique<DatabaseTarget>(connection, schema, overwrite, inputs);
}

} // namespace loopwalk::gis

#pragma once
// A marked folder as files for a lecturer, a learning platform and the students.

#include <string>
#include <vector>

#include "marking/changes.h"
#include "marking/items.h"
#include "marking/marks.h"
#include "marking/roster.h"
#include "scene/whole_files.h"

namespace linefall {

/// What is written; pieces that are not there are null.
struct Marking {
    const Lesson& lesson;
    const Marks& marks;
    const Statistics& statistics;
    const Roster& roster;
    const ColumnMap& columns;
    const std::vector<Change>* changes = nullptr;  ///< when an earlier marking was given
};

[[nodiscard]] std::string gradebookCsv(const Marking& marking);
[[nodiscard]] std::string detailsCsv(const Marking& marking);
[[nodiscard]] std::string itemsCsv(const Statistics& statistics);
[[nodiscard]] std::string clustersCsv(const Statistics& statistics);
[[nodiscard]] std::string variantsCsv(const Statistics& statistics);
[[nodiscard]] std::string toleranceCsv(const Statistics& statistics);
[[nodiscard]] std::string problemsCsv(const Marks& marks);
[[nodiscard]] std::string changesCsv(const std::vector<Change>& changes);
/// items, clusters, variants and tolerances on one page that prints well.
[[nodiscard]] std::string statisticsPage(const Marking& marking);
[[nodiscard]] std::string summaryJson(const Marking& marking);

/// Adds all files, below `folder`; nothing is in place before `files.commit()`. Returns their paths, without the pages of the
/// students. Throws InputError.
std::vector<std::string> addMarking(WholeFiles& files, const std::string& folder, const Marking& marking);

}  // namespace linefall

#include "heatside/library/library.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "library/read_records.hpp"

namespace heatside {

std::string_view name_of(Grade grade) { return grade_names[static_cast<std::size_t>(grade)]; }

namespace library {

namespace {

const std::vector<std::string> kinds{"sources", "insulation", "covering", "conductors",  "zone",   "climate", "duty",
                                     "era",     "method",     "clue",     "consequence", "remedy", "model",   "template"};

template <class Record>
void keep(std::map<std::string, Record>& records, Record record) {
  std::string id = record.head.id;
  records.insert_or_assign(std::move(id), std::move(record));
}

void read_record(const RecordText& record, Library& library, ReadingRun& run, bool& has_model) {
  RecordReader reader{run, std::string{record.name}};
  const Json document = read_strict_json(record.text, reader.file);
  Fields fields{document, "", reader.file, run.problems};
  const std::size_t problems_before = run.problems.size();
  const std::string kind = fields.choice("kind", kinds);
  if (run.problems.size() != problems_before) return;  // Without its kind nothing else can be checked.

  if (kind == "sources") {
    for (auto& [id, source] : read_sources(fields, reader)) library.sources.insert_or_assign(id, source);
  } else if (kind == "insulation") {
    keep(library.insulations, read_insulation(fields, reader));
  } else if (kind == "covering") {
    keep(library.coverings, read_covering(fields, reader));
  } else if (kind == "conductors") {
    keep(library.conductors, read_conductors(fields, reader));
  } else if (kind == "zone") {
    keep(library.zones, read_zone(fields, reader));
  } else if (kind == "climate") {
    keep(library.climates, read_climate(fields, reader));
  } else if (kind == "duty") {
    keep(library.duties, read_duty(fields, reader));
  } else if (kind == "era") {
    Era era = read_era(fields, reader);
    std::string region = era.region;
    library.eras.insert_or_assign(std::move(region), std::move(era));
  } else if (kind == "method") {
    keep(library.methods, read_method(fields, reader));
  } else if (kind == "clue") {
    keep(library.clues, read_clue(fields, reader));
  } else if (kind == "consequence") {
    keep(library.consequences, read_consequence(fields, reader));
  } else if (kind == "remedy") {
    keep(library.remedies, read_remedy(fields, reader));
  } else if (kind == "model") {
    library.model = read_model(fields, reader);
    has_model = true;
  } else {
    // A template is a case in the making: the case reader knows what may stand in it.
    library.templates.insert_or_assign(fields.text("id"), std::string{record.text});
    return;
  }
  fields.refuse_unknown();
}

void check_mentions(const Library& library, ReadingRun& run) {
  const std::vector<std::string> sources = ids_of(library.sources);
  const std::vector<std::string> insulations = ids_of(library.insulations);
  const std::vector<std::string> zones = ids_of(library.zones);
  for (const ReadingRun::Mention& mention : run.mentions) {
    const std::vector<std::string>& known = mention.what == "source" ? sources
                                            : mention.what == "zone" ? zones
                                                                     : insulations;
    if (mention.id.empty() || std::binary_search(known.begin(), known.end(), mention.id)) continue;
    run.problems.push_back({mention.file, mention.pointer, unknown_word(mention.what, mention.id, known)});
  }
}

}  // namespace

Library read_library(const std::vector<RecordText>& records) {
  Library library;
  ReadingRun run;
  bool has_model = false;
  for (const RecordText& record : records) {
    try {
      read_record(record, library, run, has_model);
    } catch (const InputError& error) {
      run.problems.insert(run.problems.end(), error.problems().begin(), error.problems().end());
    }
  }
  check_mentions(library, run);
  if (!has_model) run.problems.push_back({"library", "", "no record of kind \"model\": the model's constants are missing"});
  if (!run.problems.empty()) throw InputError(std::move(run.problems));
  return library;
}

Library with_record(Library library, const RecordText& record) {
  ReadingRun run;
  bool has_model = false;
  read_record(record, library, run, has_model);
  check_mentions(library, run);
  if (!run.problems.empty()) throw InputError(std::move(run.problems));
  return library;
}

Library built_in_library() { return read_library(built_in_records()); }

const ConductorSize* find_conductor_size(const Library& library, std::string_view label) {
  for (const auto& [id, table] : library.conductors) {
    for (const ConductorSize& size : table.sizes) {
      if (size.label == label) return &size;
    }
  }
  return nullptr;
}

std::vector<std::string> conductor_labels(const Library& library) {
  std::vector<std::string> labels;
  for (const auto& [id, table] : library.conductors) {
    for (const ConductorSize& size : table.sizes) labels.push_back(size.label);
  }
  return labels;
}

std::vector<EraCandidate> era_candidates(const Library& library, std::string_view region, int year_made) {
  const auto era = library.eras.find(std::string{region});
  if (era == library.eras.end()) return {};
  for (const EraDecade& decade : era->second.decades) {
    if (year_made >= decade.from && year_made <= decade.to) return decade.candidates;
  }
  return {};
}

Minutes weekly_running_time(const Duty& duty) {
  Minutes total{0.0};
  for (const WeeklyTrip& trip : duty.trips) {
    total = total + trip.length * static_cast<double>(trip.days.size()) * static_cast<double>(trip.repeat);
  }
  return total;
}

}  // namespace library
}  // namespace heatside

#include "app/inputs.hpp"

#include <filesystem>
#include <utility>

#include "app/files.hpp"
#include "base/sha256.hpp"
#include "heatside/base/error.hpp"
#include "heatside/casefile/record.hpp"

namespace heatside::app {

Records gather_records(const std::string& folder) {
  Records records;
  records.all = library::built_in_records();
  if (folder.empty()) return records;
  records.names = json_files_below(folder);
  for (const std::string& name : records.names) records.texts.push_back(read_file(name));
  for (std::size_t i = 0; i < records.names.size(); ++i) records.all.push_back({records.names[i], records.texts[i]});
  return records;
}

casefile::Case case_of(const std::string& text, const std::string& path, const library::Library& library) {
  casefile::Case job =
      casefile::read_case(text, path, library, [&](const std::string& name) { return read_file_beside(path, name); });
  casefile::refuse_changed_predictions(job, path, sha256);
  return job;
}

OpenedCase open_case(const std::string& path, const std::string& materials) {
  std::string text = read_file(path);
  Records records = gather_records(materials);
  library::Library library = library::read_library(records.all);
  casefile::Case job = case_of(text, path, library);
  return {std::move(text), std::move(records), std::move(library), std::move(job)};
}

namespace {

std::string file_name(const std::string& path) { return std::filesystem::path{path}.filename().string(); }

}  // namespace

std::string engine_name() { return "heatside " HEATSIDE_VERSION; }

report::BirthCertificate certificate_for(const std::string& path, const std::string& text, unsigned long long seed,
                                         const Records& records) {
  report::BirthCertificate certificate{engine_name(), sha256(text), file_name(path), seed, {}, ""};
  std::string bytes;
  for (std::size_t i = 0; i < records.names.size(); ++i) {
    certificate.own_records.push_back(file_name(records.names[i]));
    bytes += records.texts[i];
  }
  if (!records.names.empty()) certificate.own_records_sha256 = sha256(bytes);
  return certificate;
}

}  // namespace heatside::app

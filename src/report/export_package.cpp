#include <fmt/format.h>

#include <algorithm>

#include "base/strict_json.hpp"
#include "heatside/base/error.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/export_report.hpp"
#include "report/export_tables.hpp"
#include "report/json_parts.hpp"
#include "report/layout.hpp"

/// The files of an export: tables, what must be read with them, and the descriptor.

namespace heatside::report {

namespace {

constexpr const char* format_name = "heatside-export";
constexpr const char* own_part = "heatside";

// Lower-case letters, digits and - as the standard asks of names.
std::string package_name(const BirthCertificate& certificate) {
  std::string name;
  for (const char c : certificate.case_name.substr(0, certificate.case_name.find(".case.json"))) {
    const bool upper = c >= 'A' && c <= 'Z';
    const char lower = upper ? static_cast<char>(c - 'A' + 'a') : c;
    const bool plain = (lower >= 'a' && lower <= 'z') || (lower >= '0' && lower <= '9');
    if (plain) {
      name += lower;
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  return name.empty() ? "case" : name;
}

Json resource_of(const TidyTable& table, const std::string& csv, const casefile::Digest& digest) {
  return {{"$schema", "https://datapackage.org/profiles/2.0/dataresource.json"},
          {"name", table.name},
          {"path", table.name + ".csv"},
          {"type", "table"},
          {"title", table.title},
          {"description", table.meaning},
          {"format", "csv"},
          {"mediatype", "text/csv"},
          {"encoding", "utf-8"},
          {"bytes", csv.size()},
          {"hash", "sha256:" + digest(csv)},
          {"dialect",
           {{"$schema", "https://datapackage.org/profiles/2.0/tabledialect.json"},
            {"delimiter", ","},
            {"lineTerminator", "\r\n"},
            {"quoteChar", "\""},
            {"doubleQuote", true},
            {"header", true}}},
          {"schema", schema_of(table)}};
}

Json own_json(const ExportContent& content, const BirthCertificate& certificate) {
  const population::Estimate& estimate = content.answer.estimate;
  Json own = made_head(format_name, certificate);
  own.update({{"invented", content.job.invented},
              {"inspected", format_date(content.job.inspected)},
              {"draws", estimate.draws},
              {"seed", certificate.seed},
              {"conduction", estimate.conduction},
              {"cautions", cautions()}});
  return own;
}

std::string listed(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += wrapped(line, "- ");
  return text;
}

std::string readme_of(const ExportContent& content, const std::vector<TidyTable>& tables,
                      const BirthCertificate& certificate) {
  std::vector<std::string> names, rests;
  for (const TidyTable& table : tables)
    names.push_back(fmt::format("`{}.csv`: {}. {}", table.name, table.title, table.meaning));
  for (const library::Reliance& one : content.answer.estimate.relies_on) {
    if (is_soft(one.weakest)) rests.push_back(fmt::format("{} {}: {}", one.kind, one.id, name_of(one.weakest)));
  }
  std::string text = wrapped(content.job.title, "# ");
  text += fmt::format("\n{}Inspected {}; {} draws, seed {}. Made by {}, case sha256 {}.\n",
                      content.job.invented ? "Invented scenario: an example, not a vehicle. " : "",
                      format_date(content.job.inspected), content.answer.estimate.draws, certificate.seed,
                      certificate.engine, certificate.case_sha256.substr(0, 16));
  text += "\n## Read this first\n\n" + listed(cautions());
  text += "\n## Tables\n\n" + listed(names);
  text +=
      "\nEvery column stands in `dictionary.csv` and in `datapackage.json` (Data Package 2.0) with its unit and meaning.\n";
  text += "What was assumed stands in `assumptions.csv`.\n";
  if (!rests.empty()) text += "\n## Rests on judgement or memory\n\n" + listed(rests);
  return text;
}

}  // namespace

std::vector<ExportedFile> export_files(const ExportContent& content, const BirthCertificate& certificate,
                                       const casefile::Digest& digest) {
  std::vector<TidyTable> tables = export_tables(content);
  tables.push_back(dictionary_of(tables));
  std::vector<ExportedFile> files;
  Json resources = Json::array();
  for (const TidyTable& table : tables) {
    std::string csv = csv_of(table);
    resources.push_back(resource_of(table, csv, digest));
    files.push_back({table.name + ".csv", std::move(csv)});
  }
  files.push_back({"README.md", readme_of(content, tables, certificate)});
  const Json descriptor{
      {"$schema", "https://datapackage.org/profiles/2.0/datapackage.json"},
      {"name", package_name(certificate)},
      {"title", content.job.title},
      {"description",
       "Thermal ageing of wire insulation, segment by segment. Read the cautions below and the README first."},
      {"sources", Json::array({{{"title", certificate.engine + ", from " + certificate.case_name}}})},
      {own_part, own_json(content, certificate)},
      {"resources", resources}};
  files.push_back({std::string{descriptor_name}, document_text(descriptor)});
  return files;
}

bool is_export_descriptor(std::string_view text) {
  try {
    const Json document = read_strict_json(text, std::string{descriptor_name});
    const auto own = document.is_object() ? document.find(own_part) : document.end();
    return own != document.end() && own->is_object() && own->contains("format") && own->at("format") == format_name;
  } catch (const InputError&) {
    return false;
  }
}

}  // namespace heatside::report

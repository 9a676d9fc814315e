#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/document.hpp"
#include "report/json_parts.hpp"

namespace heatside::report {

namespace {

struct ToJson {
  Json operator()(const Heading& heading) const { return {{"heading", heading.text}, {"level", heading.level}}; }
  Json operator()(const Paragraph& paragraph) const { return {{"paragraph", paragraph.text}}; }
  Json operator()(const Bullets& bullets) const { return {{"list", bullets.items}}; }
  Json operator()(const Warnings& warnings) const { return {{"warnings", warnings.items}, {"title", warnings.title}}; }
  Json operator()(const Table& table) const {
    return {{"table", table.caption}, {"heads", table.heads}, {"rows", table.rows}};
  }
  Json operator()(const Picture& picture) const { return {{"picture", picture.words}}; }
  Json operator()(const NewPage&) const { return {{"new_page", true}}; }
};

}  // namespace

std::string document_json(const Document& document, const BirthCertificate& certificate, std::size_t draws,
                          const std::vector<casefile::Assumption>& assumptions) {
  Json blocks = Json::array();
  for (const Block& block : document.blocks) blocks.push_back(std::visit(ToJson{}, block));
  Json json = made_head("heatside-report", certificate);
  json.update({{"draws", draws},
               {"seed", certificate.seed},
               {"title", document.title},
               {"blocks", blocks},
               {"assumptions", assumptions_json(assumptions)},
               {"cautions", cautions()}});
  return document_text(json);
}

}  // namespace heatside::report

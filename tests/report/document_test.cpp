#include "heatside/report/document.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "base/strict_json.hpp"

using namespace heatside::report;
using Catch::Contains;

namespace {

const std::string hostile = "<script>alert(1)</script> \"' & | `x` [a](b) *c* \x01";

Document with(Block block) { return {hostile, {std::move(block)}}; }

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

}  // namespace

TEST_CASE("What a user wrote is text in HTML, whatever block it stands in", "[report]") {
  const std::vector<Block> blocks{Heading{2, hostile},
                                  Paragraph{hostile},
                                  Bullets{{hostile, hostile}},
                                  Warnings{hostile, {hostile}},
                                  Table{hostile, {hostile, "b"}, {{hostile, hostile}}},
                                  Picture{"<svg></svg>", hostile}};
  for (const Block& block : blocks) {
    const std::string html = html_text(with(block), "hash");
    CHECK_THAT(html, !Contains("<script"));
    CHECK_THAT(html, !Contains("\x01"));
    // HTML Living Standard, 13.1.2.3: attribute values in double quotes hold none
    CHECK_THAT(html, Contains("&lt;script&gt;alert(1)&lt;/script&gt; &quot;&#39; &amp;"));
  }
}

TEST_CASE("A page allows its own style sheet and nothing else", "[report]") {
  // Content Security Policy Level 3: the hash is that of the text between the tags of the style element
  const std::string html = html_text({"t", {Paragraph{"p"}}}, "abc=");
  CHECK_THAT(html, Contains("default-src &#39;none&#39;; style-src &#39;sha256-abc=&#39;"));
  CHECK_THAT(html, Contains("<style>" + document_style() + "</style>"));
  CHECK(count(html, "<style") == 1);
  CHECK_THAT(html, !Contains(" style=") && !Contains("http://") && !Contains("https://"));
}

TEST_CASE("Tables say what they are, and name their rows and columns", "[report]") {
  const std::string html = html_text(with(Table{"Lives", {"segment", "years"}, {{"a", "3"}, {"b", "4"}}, true}), "");
  CHECK_THAT(html, Contains("<caption>Lives</caption>") && Contains("aria-label=\"Lives\""));
  CHECK(count(html, "<th scope=\"col\">") == 2);
  CHECK(count(html, "<th scope=\"row\">") == 2);
  CHECK_THAT(html, Contains("<td>3</td>") && Contains("<td>4</td>"));
}

TEST_CASE("A new page begins with the heading that follows it", "[report]") {
  const std::string html = html_text({"t", {Heading{2, "a"}, NewPage{}, Heading{2, "b"}, Heading{2, "c"}}}, "");
  CHECK_THAT(html, Contains("<h2>a</h2>") && Contains("<h2 class=\"page\">b</h2>") && Contains("<h2>c</h2>"));
}

TEST_CASE("Markdown keeps tables and lists whole", "[report]") {
  // CommonMark 0.30, 2.4: a backslash before punctuation makes it literal
  const std::string markdown = markdown_text({"t", {Table{"x", {"a", "b"}, {{"p|q", "*r*"}}}, Bullets{{hostile}}}});
  CHECK_THAT(markdown, Contains("| p\\|q | \\*r\\* |"));
  CHECK_THAT(markdown, Contains("\\<script\\>") && Contains("\\`x\\`") && Contains("\\[a\\]"));
  CHECK(count(markdown, "\n- ") == 1);
  CHECK_THAT(markdown_text({"t", {Paragraph{"1. one"}}}), Contains("1\\. one"));
}

TEST_CASE("The blocks as JSON are those of the page", "[report]") {
  BirthCertificate certificate;
  certificate.engine = "heatside 9";
  const auto json =
      heatside::Json::parse(document_json({"t", {Paragraph{"p"}, Bullets{{"q"}}, NewPage{}}}, certificate, 500, {}));
  CHECK(json["draws"] == 500);
  CHECK(json["format"] == "heatside-report");
  CHECK(json["engine"] == "heatside 9");
  CHECK(json["blocks"].size() == 3);
  CHECK(json["blocks"][0]["paragraph"] == "p");
  CHECK_FALSE(json["cautions"].empty());
}

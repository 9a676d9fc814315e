#include <fmt/format.h>

#include "heatside/report/document.hpp"

namespace heatside::report {

namespace {

// Text keeps the direction of its own script; tables scroll by themselves on a narrow screen.
const std::string style =
    ":root{color-scheme:light}"
    "*{box-sizing:border-box}"
    "body{margin:0 auto;padding:1rem;max-width:52rem;font:1rem/1.45 system-ui,sans-serif;color:#1a1a1a;background:#fff;"
    "overflow-wrap:anywhere}"
    "h1{font-size:1.6rem;line-height:1.2;margin:0 0 .5rem}"
    "h2{font-size:1.25rem;margin:1.5rem 0 .4rem;border-bottom:2px solid #1a1a1a}"
    "h3{font-size:1.05rem;margin:1.2rem 0 .3rem}"
    "h4{font-size:1rem;margin:1rem 0 .3rem}"
    "p,ul{margin:.4rem 0}"
    "p,li,td,th,caption{unicode-bidi:plaintext}"
    ".weighty{border-left:.4rem solid #1a1a1a;padding:.3rem .7rem;background:#f1f1ee;font-weight:600}"
    ".warnings{border:2px solid #1a1a1a;padding:.5rem .8rem;margin:1rem 0}"
    ".warnings h2,.warnings h3{border:0;margin:.2rem 0}"
    ".wide{overflow-x:auto;margin:.6rem 0}"
    ".wide:focus-visible{outline:3px solid #1a1a1a}"
    "table{border-collapse:collapse;min-width:100%;font-size:.9rem;overflow-wrap:normal}"
    "caption{text-align:left;font-weight:600;padding:.2rem 0}"
    "th,td{border-bottom:1px solid #767676;padding:.2rem .5rem;text-align:left;vertical-align:top}"
    "thead th{border-bottom:2px solid #1a1a1a}"
    ".numbers td{text-align:right;font-variant-numeric:tabular-nums}"
    "figure{margin:.8rem 0}"
    "figure svg{width:100%;height:auto;max-height:60rem}"
    "figcaption{font-size:.9rem}"
    "footer{margin-top:2rem;font-size:.85rem}"
    "@media print{body{max-width:none;padding:0;font-size:9.5pt;line-height:1.3}.page{break-before:page}"
    "h2,h3,h4{break-after:avoid}figure,tr,.warnings{break-inside:avoid}.wide{overflow:visible}"
    "h1{font-size:15pt}h2{font-size:12pt;margin:.6rem 0 .2rem}.warnings{padding:.2rem .6rem;margin:.5rem 0}"
    "figure{margin:.3rem 0}figcaption{font-size:8pt}figure svg{max-height:6.3cm}.large svg{max-height:22cm}}"
    "@page{margin:14mm}";

std::string tagged(const char* tag, const std::string& text, const char* attributes = "") {
  return fmt::format("<{0}{1}>{2}</{0}>\n", tag, attributes, escaped_markup(text));
}

std::string list_html(const std::vector<std::string>& items) {
  std::string html = "<ul>\n";
  for (const std::string& item : items) html += tagged("li", item);
  return html + "</ul>\n";
}

// Writes each block; a new page is a class of the heading or paragraph that follows.
class Setter {
 public:
  [[nodiscard]] std::string take() { return std::move(html_); }

  void operator()(const Heading& heading) {
    html_ += fmt::format("<h{0}{1}>{2}</h{0}>\n", heading.level, page(), escaped_markup(heading.text));
  }
  void operator()(const Paragraph& paragraph) {
    html_ += tagged("p", paragraph.text, paragraph.weighty ? " class=\"weighty\"" : "");
  }
  void operator()(const Bullets& bullets) { html_ += list_html(bullets.items); }
  void operator()(const Warnings& warnings) {
    html_ += "<section class=\"warnings\">\n" + tagged("h3", warnings.title) + list_html(warnings.items) + "</section>\n";
  }
  void operator()(const Table& table) {
    html_ += fmt::format("<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n<table{}>\n",
                         escaped_markup(table.caption), table.numbers ? " class=\"numbers\"" : "");
    html_ += tagged("caption", table.caption) + "<thead><tr>";
    for (const std::string& head : table.heads) html_ += "<th scope=\"col\">" + escaped_markup(head) + "</th>";
    html_ += "</tr></thead>\n<tbody>\n";
    for (const std::vector<std::string>& row : table.rows) add_row(row);
    html_ += "</tbody></table></div>\n";
  }
  void operator()(const Picture& picture) {
    html_ += (picture.large ? "<figure class=\"large\">\n" : "<figure>\n") + picture.svg + "\n<figcaption>" +
             escaped_markup(picture.words) + "</figcaption>\n</figure>\n";
  }
  void operator()(const NewPage&) { new_page_ = true; }

 private:
  const char* page() {
    const char* text = new_page_ ? " class=\"page\"" : "";
    new_page_ = false;
    return text;
  }
  void add_row(const std::vector<std::string>& row) {
    html_ += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i)
      html_ += (i == 0 ? "<th scope=\"row\">" : "<td>") + escaped_markup(row[i]) + (i == 0 ? "</th>" : "</td>");
    html_ += "</tr>\n";
  }

  std::string html_;
  bool new_page_ = false;
};

}  // namespace

const std::string& document_style() { return style; }

std::string escaped_markup(const std::string& text) {
  std::string escaped;
  escaped.reserve(text.size());
  for (const char c : text) {
    switch (c) {
      case '&':
        escaped += "&amp;";
        break;
      case '<':
        escaped += "&lt;";
        break;
      case '>':
        escaped += "&gt;";
        break;
      case '"':
        escaped += "&quot;";
        break;
      case '\'':
        escaped += "&#39;";
        break;
      default:
        if ((static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) || c == '\n' || c == '\t') escaped += c;
    }
  }
  return escaped;
}

std::string html_text(const Document& document, const std::string& style_sha256) {
  Setter setter;
  for (const Block& block : document.blocks) std::visit(setter, block);
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src &#39;none&#39;; style-src "
      "&#39;sha256-{}&#39;; base-uri &#39;none&#39;; form-action &#39;none&#39;\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n<style>{}</style>\n"
      "</head>\n<body>\n<main>\n{}</main>\n</body>\n</html>\n",
      style_sha256, escaped_markup(document.title), style, setter.take());
}

}  // namespace heatside::report

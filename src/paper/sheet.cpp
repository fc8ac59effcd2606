#include "paper/sheet.h"

#include <cstdint>

#include "lesson/prose.h"

namespace linefall {

namespace {

/// No size is asked for: the paper in the tray decides, A4 or letter.
constexpr const char* style = R"css(
@page { margin: 15mm 15mm 18mm; }
* { box-sizing: border-box; }
body { font: 11pt/1.42 "DejaVu Serif", Georgia, serif; color: #1f2328; background: #fff; margin: 0 auto; padding: 8mm 5mm; max-width: 185mm; overflow-wrap: break-word; }
h1 { font-size: 19pt; line-height: 1.2; margin: 0 0 2mm; }
h2 { font-size: 13.5pt; line-height: 1.25; margin: 6mm 0 2mm; padding-top: 1.5mm; border-top: .4mm solid #1f2328; }
h3 { font-size: 11.5pt; margin: 5mm 0 1mm; }
p { margin: 0 0 2.4mm; }
p, li { orphans: 2; widows: 2; }
a { color: inherit; }
code, pre { font-family: "DejaVu Sans Mono", monospace; font-size: 9pt; }
pre { white-space: pre-wrap; background: #f4f1ea; padding: 2mm; }
blockquote { margin: 0 0 2.4mm; padding-left: 4mm; border-left: .8mm solid #7d766a; }
.small { font-size: 9pt; line-height: 1.35; color: #41464c; }
.head { display: flex; justify-content: space-between; gap: 6mm; border-bottom: .4mm solid #1f2328; padding-bottom: 2mm; margin-bottom: 4mm; }
.head p { margin: 0; }
.kind { text-transform: uppercase; letter-spacing: .08em; font-size: 9pt; font-weight: normal; }
figure { margin: 4mm 0; }
figure img { display: block; max-width: 100%; height: auto; margin: 0 auto; }
figcaption { font-size: 9pt; line-height: 1.35; margin-top: 1.5mm; }
p img { max-width: 100%; }
.question { margin: 4mm 0; padding-left: 9mm; position: relative; }
.question > .number { position: absolute; left: 0; font-weight: bold; }
.points { float: right; margin-left: 4mm; font-size: 9pt; white-space: nowrap; }
.options { list-style: none; margin: 0; padding: 0; }
.options li { padding-left: 12mm; position: relative; margin-bottom: 1.6mm; }
.box { position: absolute; left: 0; top: .9mm; width: 3.6mm; height: 3.6mm; border: .35mm solid #1f2328; }
.letter { position: absolute; left: 5.6mm; }
.work { border: .25mm dotted #7d766a; height: 22mm; margin: 2mm 0; }
.fill { display: flex; flex-wrap: wrap; gap: 2mm 6mm; margin: 3mm 0 1mm; }
.fill span { white-space: nowrap; }
.gap { display: inline-block; border-bottom: .35mm solid #1f2328; width: 42mm; height: 7mm; vertical-align: bottom; }
.gap.short { width: 24mm; }
.line { border-bottom: .3mm solid #7d766a; height: 8mm; }
.stop { border: .4mm solid #1f2328; padding: 2mm 3mm; margin: 5mm 0 0; }
.caution { border-bottom: .25mm solid #7d766a; padding-bottom: 2mm; }
table { border-collapse: collapse; width: 100%; font-size: 9.5pt; line-height: 1.35; margin: 1mm 0 3mm; }
th, td { text-align: left; vertical-align: top; padding: 1mm 2mm 1mm 0; border-bottom: .2mm solid #b9b2a6; }
th { font-weight: bold; }
caption { text-align: left; font-size: 9pt; line-height: 1.35; padding-bottom: 1mm; }
.readings td, .readings th { padding-top: .5mm; padding-bottom: .5mm; }
.details { display: flex; flex-wrap: wrap; gap: 2mm 3mm; }
.details figure { margin: 0 0 2mm; max-width: 57mm; }
.details figcaption { text-align: center; font-size: 8.5pt; }
td.figure, th.figure { text-align: right; white-space: nowrap; }
.tiles { display: grid; grid-template-columns: repeat(3, 1fr); gap: 5mm 4mm; }
.tile { break-inside: avoid; margin: 0; }
.tile img { width: 100%; border: .2mm solid #7d766a; image-rendering: pixelated; }
.flag { font-weight: bold; }
@media print {
  body { padding: 0; max-width: none; font-size: 10.5pt; }
  h2, h3, .ask, .lead, h2 + .small, h2 + .small + .small { break-after: avoid; }
  .question, figure, tr, .stop, .caution, .head, .readings { break-inside: avoid; }
  .answer { break-inside: auto; }
  .answer p, .answer ol { break-inside: avoid; }
  .stop { break-before: avoid; }
  figure img { max-height: 112mm; width: auto; }
  figure.ruled img { max-height: 190mm; }
  figure.plain img { max-height: 80mm; }
  .new-page { break-before: page; margin-top: 0; border-top: none; }
  .fill, .work, .line { break-inside: avoid; }
}
)css";

/// A text inside a CSS string: every character but letters, digits and blanks by its number.
std::string cssText(const std::string& text) {
    constexpr const char* hex = "0123456789abcdef";
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const std::size_t length = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC0 ? 2 : 1;
        std::uint32_t code = length == 1 ? lead : lead & (0xFFu >> (length + 1));
        for (std::size_t k = 1; k < length && i + k < text.size(); ++k) code = code << 6 | (static_cast<unsigned char>(text[i + k]) & 63u);
        i += length;
        const bool plain = code == ' ' || (code >= '0' && code <= '9') || (code >= 'A' && code <= 'Z') || (code >= 'a' && code <= 'z');
        if (plain) {
            out += static_cast<char>(code);
            continue;
        }
        if (code < 0x20 || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) continue;
        std::string digits;
        for (; code > 0; code >>= 4) digits.insert(digits.begin(), hex[code & 15u]);
        out += "\\" + digits + " ";
    }
    return out;
}

}  // namespace

std::string cautionHtml() {
    return "<p class=\"caution small\">Simulated with Linefall " LINEFALL_VERSION
           "; the places are invented. A teaching model: not for survey, navigation, engineering or safety decisions. Never look at the sun, least of all through glass, a lens or an "
           "optic. Flying anything follows local aviation law.</p>\n";
}

std::string sheetDocument(const std::string& title, const std::string& running, const std::string& body) {
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
           "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\"/>\n"
           "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>" +
           escapedHtml(title) + "</title>\n<style>" + style + "@page { @bottom-left { content: \"" + cssText(running) + "\"; font: 8pt serif; color: #41464c; } @bottom-right { content: \"page \" counter(page) \" of \" counter(pages); font: 8pt serif; color: #41464c; } }\n</style>\n</head>\n<body>\n" +
           body + "</body>\n</html>\n";
}

}  // namespace linefall

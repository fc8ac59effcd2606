// The content package around the items: pictures, a test that keeps the order, the manifest. Names of schemas and types follow IMS
// content packaging 1.1 and QTI 2.1, quoted from memory.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>

#include "base/problem.h"
#include "flight/picture_look.h"
#include "lesson/describe.h"
#include "marking/marks.h"
#include "marking/qti_item.h"
#include "scene/png_file.h"

namespace linefall {

namespace {

constexpr int wanted_columns = 480;  ///< narrow pictures are enlarged by a whole number, so that a pixel can be hit
constexpr std::uintmax_t most_picture_bytes = 16u << 20;

/// The letter of an instrument.
std::string letterOf(int instrument) { return std::string(1, static_cast<char>('A' + instrument)); }

class Packer {
public:
    explicit Packer(Truths& truths) : truths_(truths), lesson_(truths.lesson()) {}

    QtiPackage pack() {
        std::string refs, resources;
        for (const auto& [step, part] : partsOf(lesson_)) {
            const std::string& scene = sceneOf(*part, *step);
            const QtiPicture* picture = shows(*step, *part) ? pictureOf(scene, part->instrument) : nullptr;
            const QtiContext context = contextOf(*step, *part, scene);
            const std::string xml = qtiItem(*part, *step, truths_, context, picture);
            if (xml.empty()) {
                out_.left_out.push_back(part->id + ": a question of the kind '" + nameOf(part->kind) + "' has no counterpart in QTI 2.1");
                continue;
            }
            const std::string path = "items/" + part->id + ".xml", name = qtiName(lesson_, truths_.variant(), part->id);
            out_.files.push_back({path, xml});
            out_.items.push_back(part->id);
            refs += "<assessmentItemRef identifier=\"" + name + "\" href=\"" + path + "\"/>\n";
            resources += resource(name, "imsqti_item_xmlv2p1", path, picture, context);
            items_ += "<dependency identifierref=\"" + name + "\"/>\n";
            tellLosses(*part);
        }
        addTest(refs);
        resources += "<resource identifier=\"" + qtiName(lesson_, truths_.variant(), "test") + "_\" type=\"imsqti_test_xmlv2p1\" href=\"test.xml\">\n<file href=\"test.xml\"/>\n" + items_ + "</resource>\n";
        addManifest(resources);
        return std::move(out_);
    }

private:
    void tellLosses(const Part& part) {
        if (!part.hints.empty()) out_.left_out.push_back(part.id + ": its hints");
        if (!part.follow.empty()) out_.left_out.push_back(part.id + ": marks that follow from the student's own earlier value");
        if (part.kind == Part::Kind::number && !part.unit.empty()) out_.left_out.push_back(part.id + ": units; a number in " + part.unit + " is asked for");
    }

    /// A prediction is made before the picture is seen, unless its step shows one or the answer is a place in it.
    static bool shows(const Step& step, const Part& part) {
        if (part.kind == Part::Kind::point || part.kind == Part::Kind::line) return true;
        if (step.kind != StepKind::predict && step.kind != StepKind::attempt) return true;
        return std::any_of(step.figures.begin(), step.figures.end(), [](const LessonFigure& figure) { return figure.kind == "picture"; });
    }

    /// The formed picture, made once for all parts that show it; null where it cannot be formed.
    const QtiPicture* pictureOf(const std::string& scene, int instrument) {
        const LessonScene* plan = lesson_.findScene(scene);
        if (plan == nullptr || instrument >= static_cast<int>(plan->instruments.size())) return nullptr;
        const std::string path = "images/" + plan->name + "-" + letterOf(instrument) + ".png";
        if (const auto at = pictures_.find(path); at != pictures_.end()) return &at->second;
        const Image& image = truths_.formation(scene, instrument).image();
        const ShowSettings show = showKeys().read(truths_.scene(scene).settings);
        const PictureLook look = lookOf(image, show.bands, stretchOf(show));
        const int channels = look.bands.grey() ? 1 : 3;
        const int times = std::clamp(wanted_columns / std::max(1, image.samples()), 1, 8);
        std::vector<std::uint8_t> pixels;
        for (int line = 0; line < image.lines(); ++line) {
            const std::vector<std::uint8_t> row = enlarged(displayRow(image, look.bands, look.limits, look.screen_curve, line), channels, times);
            for (int k = 0; k < times; ++k) pixels.insert(pixels.end(), row.begin(), row.end());
        }
        const QtiPicture picture{path, altOf(scene, instrument, image, look), oneLine(pictureInWords(truths_, scene, instrument)), image.samples() * times, image.lines() * times, times};
        out_.files.push_back({path, pngBytes(picture.columns, picture.rows, channels, pixels)});
        return &pictures_.emplace(path, picture).first->second;
    }

    static std::vector<std::uint8_t> enlarged(const std::vector<std::uint8_t>& row, int channels, int times) {
        std::vector<std::uint8_t> out;
        out.reserve(row.size() * static_cast<std::size_t>(times));
        const auto step = static_cast<std::ptrdiff_t>(channels);
        for (auto pixel = row.begin(); pixel != row.end(); pixel += step) {
            for (int k = 0; k < times; ++k) out.insert(out.end(), pixel, pixel + step);
        }
        return out;
    }

    /// An attribute has no lines: words that stood on a line of their own end in a semicolon.
    static std::string oneLine(const std::string& words) {
        std::string out;
        for (std::size_t at = 0; at < words.size(); ++at) {
            if (words[at] != '\n') out += words[at];
            else if (!out.empty() && at + 1 < words.size()) out += out.back() == '.' || out.back() == ':' ? std::string() : std::string(";");
        }
        return out;
    }

    std::string altOf(const std::string& scene, int instrument, const Image& image, const PictureLook& look) {
        const InstrumentSetup& setup = truths_.scene(scene).instruments[static_cast<std::size_t>(instrument)];
        return fmt::format("Picture of a {}, {} samples wide and {} lines high, {}; line 0 is on top and sample 0 on the left.", setup.kindOf().title, image.samples(), image.lines(), look.bands.name);
    }

    /// The words of the step up to the question.
    QtiContext contextOf(const Step& step, const Part& part, const std::string& scene) {
        QtiContext context;
        const auto image = [&](const std::string& target, const std::string& words) { return ownPicture(target, words, context); };
        for (const StepItem& item : step.items) {
            if (item.what == StepItem::What::part && &step.parts[item.index] == &part) break;
            if (item.what == StepItem::What::prose) context.body += qtiProse(truths_.text(item.prose, scene), image);
        }
        return context;
    }

    /// A file of the lesson's own folder that its words show; only its words where it is no plain name.
    std::string ownPicture(const std::string& target, const std::string& words, QtiContext& context) {
        namespace fs = std::filesystem;
        const std::string said = "<em>" + escapedHtml(words) + "</em>";
        std::error_code error;
        const fs::path from = fs::path(lesson_.folder) / target;
        const bool plain = !target.empty() && target.find('/') == std::string::npos && target.find('\\') == std::string::npos && target.find("..") == std::string::npos;
        if (!plain || !fs::is_regular_file(fs::symlink_status(from, error)) || fs::file_size(from, error) > most_picture_bytes || error) return said;
        const std::string path = "images/own-" + target;
        if (std::none_of(out_.files.begin(), out_.files.end(), [&](const PackageFile& file) { return file.path == path; })) {
            std::ifstream in(from, std::ios::binary);
            out_.files.push_back({path, std::string(std::istreambuf_iterator<char>(in), {})});
        }
        context.pictures.push_back(path);
        return "<img src=\"../" + escapedHtml(path) + "\" alt=\"" + escapedHtml(words) + "\"/>";
    }

    static std::string resource(const std::string& name, const std::string& type, const std::string& path, const QtiPicture* picture, const QtiContext& context) {
        std::vector<std::string> files{path};
        if (picture != nullptr) files.push_back(picture->path);
        for (const std::string& own : context.pictures) {
            if (std::find(files.begin(), files.end(), own) == files.end()) files.push_back(own);
        }
        std::string out = "<resource identifier=\"" + name + "\" type=\"" + type + "\" href=\"" + path + "\">\n";
        for (const std::string& file : files) out += "<file href=\"" + escapedHtml(file) + "\"/>\n";
        return out + "</resource>\n";
    }

    void addTest(const std::string& refs) {
        const std::string name = qtiName(lesson_, truths_.variant(), "test") + "_", title = escapedHtml(lesson_.title);
        out_.files.push_back({"test.xml", "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<assessmentTest xmlns=\"http://www.imsglobal.org/xsd/imsqti_v2p1\" identifier=\"" + name + "\" title=\"" + title +
                                              "\" toolName=\"Linefall\" toolVersion=\"" LINEFALL_VERSION "\">\n<testPart identifier=\"lesson\" navigationMode=\"linear\" submissionMode=\"individual\">\n"
                                              "<assessmentSection identifier=\"questions\" title=\"" + title + "\" visible=\"true\">\n" + refs + "</assessmentSection>\n</testPart>\n</assessmentTest>\n"});
    }

    void addManifest(const std::string& resources) {
        const std::string text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<manifest xmlns=\"http://www.imsglobal.org/xsd/imscp_v1p1\" identifier=\"" + qtiName(lesson_, truths_.variant(), "") +
                                 "_package\">\n<metadata>\n<schema>QTIv2.1 Package</schema>\n<schemaversion>1.0.0</schemaversion>\n</metadata>\n<organizations/>\n<resources>\n" + resources + "</resources>\n</manifest>\n";
        out_.files.insert(out_.files.begin(), {"imsmanifest.xml", text});
    }

    Truths& truths_;
    const Lesson& lesson_;
    QtiPackage out_;
    std::map<std::string, QtiPicture> pictures_;
    std::string items_;
};

}  // namespace

QtiPackage qtiPackage(Truths& truths) {
    return Packer(truths).pack();
}

}  // namespace linefall

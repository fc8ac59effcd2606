#include <iostream>

#include "command/command.h"
#include "command/form_files.h"
#include "command/forming.h"
#include "command/json_text.h"
#include "command/show_options.h"
#include "scene/out_folder.h"

namespace linefall {

int runForm(const FormOptions& options) {
    Scene told;  // what is wrong with the options is told before anything is formed
    if (!options.stretch.empty()) giveStretch(options.stretch, told);
    const OutFolder folder(options.out);
    Scene scene = loadScene(options.scene);
    if (!options.stretch.empty()) giveStretch(options.stretch, scene);
    if (!options.show.empty()) scene.settings.replace(*findSceneRow("show.bands"), options.show);
    checkMemory(scene);
    std::vector<std::unique_ptr<Formation>> formations;
    for (std::size_t i = 0; i < scene.instruments.size(); ++i) formations.push_back(std::make_unique<Formation>(scene, i));
    (void)chosenBands(formations, scene, !options.show.empty());

    const auto interruptedHere = [] {
        std::cerr << "interrupted: nothing was written\n";
        return 130;
    };
    // Every image is formed before anything is written: an interrupted run leaves nothing behind.
    const std::vector<std::string> stems = fileStems(scene);
    for (std::size_t i = 0; i < formations.size(); ++i) {
        ProgressBar bar(stems[i], formations[i]->lines());
        const bool whole = formations[i]->form(0, formations[i]->lines(), options.scene.threads, &interrupted(),
                                               [&bar](int done) { bar.show(done); });
        bar.end();
        if (!whole) return interruptedHere();
    }
    const std::optional<FormReport> report = writeImages(scene, formations, options.out, interrupted());
    if (!report) return interruptedHere();
    if (options.json) {
        std::cout << jsonText(report->json);
        return 0;
    }
    for (const std::string& file : report->files) std::cout << file << '\n';
    for (std::size_t i = 0; i < formations.size(); ++i) {
        if (const std::size_t sky = skySamples(formations[i]->image())) {
            std::cout << stems[i] << ": " << sky << " samples look past the ground into the sky\n";
        }
    }
    return 0;
}

}  // namespace linefall

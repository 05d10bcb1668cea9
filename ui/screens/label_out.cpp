#include "ui/screens/label_out.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/sample_label.hpp"

#include <filesystem>
#include <system_error>
#include <vector>

namespace crossarm::ui {

std::string offered_sample_number(const View& view, const model::Checkpoint& checkpoint) {
    std::vector<std::string> taken;
    for (const model::EarlierReading& earlier :
         view.reg.earlier_of(view.at_hand->structure->id, checkpoint.id)) {
        if (const auto* remark = std::get_if<model::Remark>(&earlier.value)) {
            taken.push_back(remark->text);
        }
    }
    return bundle::suggested_sample_id(view.at_hand->structure->id, view.now, taken);
}

model::Result<std::string> write_sample_label(const View& view) {
    const std::string page = bundle::sample_label({.structure = *view.at_hand->structure,
                                                   .state = view.at_hand->state,
                                                   .protocol = view.protocol(),
                                                   .people = view.reg.people,
                                                   .printed = model::day_of(view.now),
                                                   .owner = view.office,
                                                   .reason = view.words.say("label.reason"),
                                                   .tests = view.words.say("label.tests"),
                                                   .liquid = view.words.say("label.liquid")},
                                                  view.words);
    std::error_code ignored; // write_atomically tells what is wrong with the folder
    std::filesystem::create_directories(view.bundles_folder, ignored);
    const std::string path = view.bundles_folder + "/label-" + to_text(view.at_hand->visit) + ".html";
    if (const auto written = bundle::write_atomically(path, page); !written) {
        return written.problem();
    }
    return path;
}

} // namespace crossarm::ui

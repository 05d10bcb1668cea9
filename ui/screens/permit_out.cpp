#include "ui/screens/permit_out.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/permit_page.hpp"

#include <filesystem>
#include <system_error>

namespace crossarm::ui {

model::Result<std::string> write_permit_page(const View& view) {
    const AtHand& at_hand = *view.at_hand;
    const std::string page = bundle::permit_page({.structure = *at_hand.structure,
                                                  .permit = at_hand.permit.state,
                                                  .rules = at_hand.permit.rules,
                                                  .people = view.reg.people,
                                                  .printed = view.now,
                                                  .owner = view.office},
                                                 view.words);
    std::error_code ignored; // write_atomically tells what is wrong with the folder
    std::filesystem::create_directories(view.bundles_folder, ignored);
    const std::string path = view.bundles_folder + "/permit-" + to_text(at_hand.visit) + ".html";
    if (const auto written = bundle::write_atomically(path, page); !written) {
        return written.problem();
    }
    return path;
}

} // namespace crossarm::ui

// Coded words of the contract and what they mean. Compared without case and outer blanks.
#pragma once

#include "loopwalk/model/layers.hpp"

#include <array>
#include <string_view>

namespace loopwalk::input {

template <class E>
struct Word {
    std::string_view text;
    E value{};
};
template <class E>
Word(std::string_view, E) -> Word<E>; // clang 14 does not deduce it for an aggregate

/// A word that says no more than an empty field.
inline constexpr std::string_view kUnknownWord = "unknown";
/// As a fuse type: an isolator or solid link.
inline constexpr std::string_view kNoFuseWord = "none";

inline constexpr std::array kColumnKinds{
    Word{"column", model::ColumnKind::column}, Word{"sign", model::ColumnKind::sign},
    Word{"bollard", model::ColumnKind::bollard}, Word{"beacon", model::ColumnKind::beacon},
    Word{"shelter", model::ColumnKind::shelter}};
inline constexpr std::array kOwners{Word{"council", model::Owner::council},
                                    Word{"distributor", model::Owner::distributor},
                                    Word{kUnknownWord, model::Owner::unknown}};
inline constexpr std::array kFeeds{Word{"main", model::StatedFeed::main},
                                   Word{"pillar", model::StatedFeed::pillar},
                                   Word{"column", model::StatedFeed::column}};
inline constexpr std::array kPhases{Word{"L1", model::Phase::l1}, Word{"L2", model::Phase::l2},
                                    Word{"L3", model::Phase::l3}};
inline constexpr std::array kControls{Word{"permanent", model::Control::permanent},
                                      Word{"own photocell", model::Control::own_photocell},
                                      Word{"group switched", model::Control::group_switched},
                                      Word{"switch core", model::Control::switch_core},
                                      Word{kUnknownWord, model::Control::unknown}};
inline constexpr std::array kPoles{Word{"1", model::Poles::one}, Word{"2", model::Poles::two},
                                   Word{"neutral fused", model::Poles::neutral_fused},
                                   Word{kUnknownWord, model::Poles::unknown}};
inline constexpr std::array kEarthings{Word{"TN-C-S", model::Earthing::tn_c_s},
                                       Word{"TN-S", model::Earthing::tn_s},
                                       Word{"TT", model::Earthing::tt}};
inline constexpr std::array kStatuses{
    Word{"in service", model::Status::in_service}, Word{"proposed", model::Status::proposed},
    Word{"removed", model::Status::removed}, Word{"disconnected", model::Status::disconnected}};
inline constexpr std::array kSupplyKinds{Word{"pillar", model::SupplyKind::pillar},
                                         Word{"section pillar", model::SupplyKind::section_pillar},
                                         Word{"service", model::SupplyKind::service},
                                         Word{"substation", model::SupplyKind::substation}};
inline constexpr std::array kBases{Word{"measured", model::Basis::measured},
                                   Word{"declared", model::Basis::declared},
                                   Word{"assumed", model::Basis::assumed}};
inline constexpr std::array kJointKinds{
    Word{"straight", model::JointKind::straight}, Word{"tee", model::JointKind::tee},
    Word{"pot end", model::JointKind::pot_end}, Word{"fused", model::JointKind::fused}};
inline constexpr std::array kEndStates{Word{"connected", model::CableEndState::connected},
                                       Word{"open", model::CableEndState::open}};
inline constexpr std::array kSides{Word{"loop", model::CutOutSide::loop},
                                   Word{"fused", model::CutOutSide::fused},
                                   Word{kUnknownWord, model::CutOutSide::unknown}};
inline constexpr std::array kBonds{Word{"bonded", model::EarthBond::bonded},
                                   Word{"not bonded", model::EarthBond::not_bonded},
                                   Word{kUnknownWord, model::EarthBond::unknown}};
inline constexpr std::array kPlacesTaken{Word{"cut-out", model::TakenAt::cut_out},
                                         Word{"lantern", model::TakenAt::lantern}};
inline constexpr std::array kMethods{Word{"high current", model::TestMethod::high_current},
                                     Word{"no trip", model::TestMethod::no_trip}};
/// Layers whose assets can be named from another layer.
inline constexpr std::array kAssetLayers{
    Word{"columns", model::AssetLayer::columns}, Word{"cables", model::AssetLayer::cables},
    Word{"supplies", model::AssetLayer::supplies}, Word{"joints", model::AssetLayer::joints},
    Word{"mains", model::AssetLayer::mains}};

} // namespace loopwalk::input

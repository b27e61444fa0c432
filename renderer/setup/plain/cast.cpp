#include "setup/plain/cast.h"

#include "setup/plain/catalogues.h"

namespace rushlight {

namespace {

CastPerson one(std::string_view name, Sex sex, double age, Physique build, double height, double skin, const char* hair,
               HairCut cut, double wave, Wear wear, double wardrobe, const char* hue, int face) {
    StandIn w;
    w.sex = sex;
    w.age = age;
    w.build = build;
    w.height = height;
    w.skin = skin;
    const HairKind& kind = *kind_named(hair_kinds(), hair);
    w.hair = kind.reflectance;
    w.hair_warmth = kind.warmth;
    w.cut = cut;
    w.wave = wave;
    w.wear = wear;
    w.wardrobe = wardrobe;
    w.wardrobe_hue = hue;
    w.face = face;
    if (wear == Wear::jacket) w.shirt = 0.6;
    return {name, w};
}

}  // namespace

const std::vector<CastPerson>& cast_people() {
    static const std::vector<CastPerson> people{one("ansa", Sex::woman, 28, Physique::slim, 1.72, 0.30, "blond",
                                                    HairCut::loose, 0.35, Wear::jumper, 0.30, "neutral", 11),
                                                one("berko", Sex::man, 41, Physique::average, 1.84, 0.06, "black",
                                                    HairCut::cropped, 0.20, Wear::shirt, 0.45, "neutral", 23),
                                                one("celin", Sex::woman, 63, Physique::sturdy, 1.64, 0.27, "grey",
                                                    HairCut::bob, 0.25, Wear::jumper, 0.10, "blue", 37),
                                                one("dovan", Sex::man, 34, Physique::slim, 1.79, 0.25, "brown",
                                                    HairCut::shorter, 0.30, Wear::jacket, 0.06, "neutral", 41),
                                                one("ebele", Sex::woman, 36, Physique::average, 1.68, 0.07, "black",
                                                    HairCut::tied, 0.50, Wear::dress, 0.14, "red", 59),
                                                one("fenno", Sex::man, 71, Physique::average, 1.75, 0.30, "white",
                                                    HairCut::shorter, 0.10, Wear::jumper, 0.16, "green", 61),
                                                one("giska", Sex::woman, 45, Physique::average, 1.66, 0.19, "black",
                                                    HairCut::bob, 0.10, Wear::shirt, 0.55, "neutral", 73),
                                                one("hadrin", Sex::man, 26, Physique::sturdy, 1.77, 0.16, "black",
                                                    HairCut::shorter, 0.60, Wear::tee, 0.12, "neutral", 83),
                                                one("ismay", Sex::woman, 22, Physique::average, 1.63, 0.12, "black",
                                                    HairCut::loose, 0.70, Wear::tee, 0.40, "neutral", 97),
                                                one("jorun", Sex::man, 55, Physique::heavy, 1.82, 0.29, "bald",
                                                    HairCut::shorter, 0.20, Wear::shirt, 0.22, "blue", 103),
                                                one("kirra", Sex::woman, 9, Physique::average, 1.34, 0.22, "brown",
                                                    HairCut::tied, 0.30, Wear::tee, 0.35, "red", 113),
                                                one("lasko", Sex::man, 12, Physique::slim, 1.52, 0.28, "red",
                                                    HairCut::shorter, 0.30, Wear::jumper, 0.14, "green", 127)};
    return people;
}

}  // namespace rushlight

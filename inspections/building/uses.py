"""What a room is for, by what people call it in a plan; common practice, no source."""

import re
import unicodedata

from inspections.checker.house.rooms import RoomKind

WORDS = {
    RoomKind.BATHROOM: "bath bad badezimmer shower dusche salle-de-bain bano ensuite",
    RoomKind.WASHROOM: "wc toilet toilette powder washroom lavatory toilettes aseo",
    RoomKind.KITCHEN: "kitchen kuche kueche cuisine cocina kitchenette",
    RoomKind.BEDROOM: "bedroom bed schlafzimmer schlafen chambre dormitorio habitacion",
    RoomKind.LIVING: "living lounge wohnzimmer wohnen salon sejour sala estar",
    RoomKind.DINING: "dining esszimmer essen salle-a-manger comedor",
    RoomKind.FAMILY: "family great",
    RoomKind.DEN: "den study office buro buero arbeitszimmer bureau estudio oficina library",
    RoomKind.RECREATION: "recreation rec games hobby spielzimmer",
    RoomKind.LAUNDRY: "laundry waschkuche waschkueche buanderie lavanderia lavadero",
    RoomKind.ENTRY: "entry foyer entrance eingang entree entrada vestibule recibidor",
    RoomKind.HALLWAY: "hall hallway corridor flur diele couloir pasillo landing galerie",
    RoomKind.STAIR: "stair stairs stairway treppe treppenhaus escalier escalera",
    RoomKind.CLOSET: "closet wardrobe placard armario ankleide dressing vestidor",
    RoomKind.PANTRY: "pantry speisekammer garde-manger despensa",
    RoomKind.UTILITY: "utility mechanical technik hausanschluss technique furnace boiler hwr",
    RoomKind.STORAGE: "storage store abstellraum debarras trastero lager rangement",
    RoomKind.GARAGE: "garage carport garaje",
    RoomKind.BASEMENT: "basement cellar keller cave sous-sol sotano",
    RoomKind.ATTIC: "attic loft dachboden grenier atico desvan speicher",
    RoomKind.CRAWL_SPACE: "crawl crawlspace",
    RoomKind.PORCH: "porch deck balcony balkon terrasse terrace veranda patio balcon loggia",
}
WHOLE = {word.replace("-", " "): kind for kind, words in WORDS.items() for word in words.split()}


def use_of(*names: str | None) -> RoomKind | None:
    """The use that the first telling name says; None when none says any."""
    for name in names:
        if kind := _use_in(_plain(name or "")):
            return kind
    return None


def _use_in(plain: str) -> RoomKind | None:
    """By a phrase, else by a whole word, else by what a longer word begins with or has in it."""
    for phrase, kind in WHOLE.items():
        if " " in phrase and phrase in plain:
            return kind
    words = plain.split()
    for word in words:
        if word in WHOLE:
            return WHOLE[word]
    for word in words:
        if kind := _use_in_compound(word):
            return kind
    return None


def _use_in_compound(compound: str) -> RoomKind | None:
    for word, kind in WHOLE.items():
        if len(word) > 4 and compound.startswith(word):
            return kind
    for word, kind in WHOLE.items():
        if len(word) > 5 and word in compound:
            return kind
    return None


def _plain(name: str) -> str:
    letters = ""
    for letter in unicodedata.normalize("NFKD", name.casefold()):
        if not unicodedata.combining(letter):
            letters += letter
    return re.sub(r"[^a-z]+", " ", letters).strip()

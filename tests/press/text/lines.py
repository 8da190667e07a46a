"""One line of owner's text in each of the 23 languages, for tests of the text engine.

NOT REVIEWED BY TRANSLATORS. Invented for these tests; correct enough to exercise letters, marks, joins and
breaks, and never to be printed for an owner.
"""

from __future__ import annotations

# An island that keeps its order in right-to-left text: LEFT-TO-RIGHT ISOLATE ... POP DIRECTIONAL ISOLATE,
# with no-break spaces and word joiners round the hyphens.
PHONE = "+1 802-555-0142"
ISLAND = "\u2066" + PHONE.replace(" ", "\u00a0").replace("-", "\u2060-\u2060") + "\u2069"

LINES: dict[str, str] = {
    "en": (f"Keep the bandage dry and look at the toes twice a day. Call {ISLAND} if they are cold, wet or swollen."),
    "es": (f"Mantenga seco el vendaje y mire los dedos dos veces al día. ¿Están fríos o hinchados? Llame al {ISLAND}."),
    "fr": (
        "Gardez le bandage au sec\u202f; regardez les doigts deux "
        f"fois par jour. Froids, mouillés\u202f? Appelez le {ISLAND}."
    ),
    "pt-BR": (f"Mantenha a bandagem seca e observe os dedos duas vezes ao dia. Não espere: ligue para {ISLAND}."),
    "ht": (f"Kenbe bandaj la sèk epi gade zòtèy yo de fwa pa jou. Rele {ISLAND} si yo frèt, mouye oswa anfle."),
    "de": (
        f"Verband trocken halten, Zehen zweimal täglich ansehen. Kalt, naß oder geschwollen? Gleich anrufen: {ISLAND}."
    ),
    "pl": (
        "Opatrunek musi być suchy; oglądaj palce dwa razy dziennie. "
        f"Są zimne, spuchnięte? Zadzwoń: {ISLAND}. Źdźbło, żółć."
    ),
    "ru": (
        "Держите повязку сухой и осматривайте пальцы дважды в "
        f"день. Холодные или опухшие? Звоните: {ISLAND}, подъезд 2."
    ),
    "uk": (
        f"Тримайте пов\u02bcязку сухою, оглядайте пальці двічі на день. Холодні? Дзвоніть: {ISLAND}. Їжа, ґанок, єнот."
    ),
    "vi": (f"Giữ băng khô và xem các ngón chân hai lần mỗi ngày. Nếu ngón lạnh, ướt hoặc sưng, hãy gọi {ISLAND}."),
    "fil": (
        "Panatilihing tuyo ang benda at tingnan ang mga daliri "
        f"dalawang beses sa isang araw. Tumawag sa {ISLAND}, Niño."
    ),
    "so": (
        "Faashadda ha qallalnaato, faraha laba jeer maalintii eeg. "
        f"Soo wac {ISLAND} haddii ay qabow yihiin ama bararaan."
    ),
    "zh-Hans": f"请保持绷带干燥，每天查看脚趾两次。如果脚趾发冷、潮湿或肿胀，请拨打{ISLAND}。“骨直角”",
    "zh-Hant": f"請保持繃帶乾燥，每天查看腳趾兩次。如果腳趾發冷、潮濕或腫脹，請撥打{ISLAND}。「骨直角」",
    "ja": (
        "包帯は乾いた状態に保ち、足の指を一日二回見てください。"
        f"冷たい、濡れている、腫れている時は{ISLAND}へ。「骨直角」"
    ),
    "ko": (
        f"붕대를 마른 상태로 유지하고 발가락을 하루 두 번 살펴보세요. 차갑거나 젖었거나 부으면 {ISLAND}로 전화하세요."
    ),
    "ar": (f"حافظوا على جفاف الضماد وانظروا إلى الأصابع مرتين يوميًا. اتصلوا على {ISLAND} إذا كانت باردة (أو متورمة)!"),
    "fa": (f"پانسمان را خشک نگه دارید و انگشتان را روزی دو بار ببینید. اگر سرد می‌شوند با {ISLAND} تماس بگیرید؛ گچ پا."),
    "ur": (
        f"پٹی کو خشک رکھیں اور دن میں دو بار پنجے دیکھیں۔ ٹھنڈے یا گیلے ہوں تو {ISLAND} پر فون کریں۔ ڈاکٹر سے ملیں۔"
    ),
    "he": (f"שמרו על התחבושת יבשה והביטו באצבעות פעמיים ביום. אם הן קרות (או נפוחות), התקשרו אל {ISLAND}. שָׁלוֹם!"),
    "hi": (f"पट्टी सूखी रखें और दिन में दो बार उँगलियाँ देखें। ठंडी या सूजी हों तो {ISLAND} पर फ़ोन करें। क्षत्रिय, श्री, विद्युत्।"),
    "pa": (f"ਪੱਟੀ ਸੁੱਕੀ ਰੱਖੋ ਅਤੇ ਦਿਨ ਵਿੱਚ ਦੋ ਵਾਰ ਉਂਗਲਾਂ ਦੇਖੋ। ਠੰਢੀਆਂ ਹੋਣ ਤਾਂ {ISLAND} ’ਤੇ ਫ਼ੋਨ ਕਰੋ। ਪ੍ਰੀਤ ਸਿੰਘ।"),
    "th": (f"รักษาผ้าพันแผล\u200bให้แห้ง\u200bอยู่เสมอ และดูนิ้วเท้า\u200bวันละสองครั้ง หากเย็น เปียก หรือบวม โทร {ISLAND} น้ำ ปั๊ม ที่นี่"),
}

CJK = ("zh-Hans", "zh-Hant", "ja", "ko")
RTL = ("ar", "fa", "ur", "he")

namespace ShopFloor.Domain.Invoicing;

/// <summary>Units of UN/ECE Recommendation 20 that a workshop bills in; all are in EN 16931's list (BR-CL-23).</summary>
public static class UnitCodes
{
    /// <summary>One piece.</summary>
    public const string Piece = "H87";

    /// <summary>One, of something that is no piece, e.g. a deposit.</summary>
    public const string One = "C62";

    /// <summary>An hour.</summary>
    public const string Hour = "HUR";

    private static readonly HashSet<string> Known = Codes.Set(
        "H87 C62 EA SET PR LTR MLT MTK CMK DMK MTR CMT MMT GRM KGM SEC MIN HUR DAY KWH LS XBX XPK"
    );

    /// <summary>True when the code may stand on an invoice of the workshop.</summary>
    public static bool IsKnown(string code) => Known.Contains(code);
}

/// <summary>Code lists that EN 16931 fixes, as of its validation artefacts 1.3.16.</summary>
public static class Codes
{
    private static readonly HashSet<string> CountryCodes = Set(
        "1A AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ"
            + " CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO FR"
            + " GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO"
            + " JP KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR"
            + " MS MT MU MV MW MX MY MZ NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO"
            + " RS RU RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM TN TO TR TT TV"
            + " TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS XI YE YT ZA ZM ZW"
    );

    private static readonly HashSet<string> CurrencyCodes = Set(
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BIF BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF CHW"
            + " CLP CNH CNY COP COU CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD"
            + " HNL HTG HUF IDR ILS INR IRR ISK JMD JPY KES KGS KHR KMF KPW KRW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK"
            + " MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF"
            + " SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STD SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH UGX USD USN UYI"
            + " UYU UZS VES VED VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG"
    );

    private static readonly HashSet<string> MeansCodes = Set(
        "1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 29 30 31 32 33 34 35 36 37 38 39 40 41 42 43 44 45 46 47 48 49 50 51 52 53 54 55 56 57 58 59 60 61 62 63 64 65 66 67 68 69 70 74 75 76 77 78 91 92 93 94 95 96 97 98 ZZZ"
    );

    /// <summary>ISO 3166-1 letters, with 1A and XI (BR-CL-14).</summary>
    public static bool IsCountry(string code) => CountryCodes.Contains(code);

    /// <summary>ISO 4217 letters (BR-CL-04), without precious metals, funds, and the currencies whose coin has three decimals.</summary>
    public static bool IsCurrency(string code) => CurrencyCodes.Contains(code);

    /// <summary>UNTDID 4461 (BR-CL-16).</summary>
    public static bool IsPaymentMeans(string code) => MeansCodes.Contains(code);

    /// <summary>True when a number for the tax begins with a country's letters; Greece writes EL there (BR-CO-09).</summary>
    public static bool HasCountryLetters(string vatId) =>
        vatId.Length > 2 && (vatId.StartsWith("EL", StringComparison.Ordinal) || IsCountry(vatId[..2]));

    internal static HashSet<string> Set(string words) => [.. words.Split(' ')];
}

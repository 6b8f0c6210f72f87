namespace ShopFloor.Data.Records;

/// <summary>A setting that holds from an instant on: rates, price rules, tax, the workshop's profile, planner weights.</summary>
public sealed class DatedSetting
{
    private DatedSetting() { }

    /// <summary>A new version of a setting.</summary>
    public DatedSetting(Guid id, string key, DateTimeOffset from, string json, string by)
    {
        (Id, Key, From, Json, By) = (id, key, from, json, by);
    }

    /// <summary>Names this version.</summary>
    public Guid Id { get; private set; }

    /// <summary>Which setting, e.g. <c>rates</c>.</summary>
    public string Key { get; private set; } = "";

    /// <summary>Holds from then on, UTC, until a later version.</summary>
    public DateTimeOffset From { get; private set; }

    /// <summary>Content.</summary>
    public string Json { get; private set; } = "";

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";
}

/// <summary>Keys of the dated settings.</summary>
public static class SettingKeys
{
    /// <summary><c>WorkshopProfile</c>.</summary>
    public const string Profile = "profile";

    /// <summary><c>WorkshopLogo</c>.</summary>
    public const string Logo = "logo";

    /// <summary><c>LetterTexts</c>.</summary>
    public const string LetterTexts = "letter-texts";

    /// <summary><c>RateCard</c>.</summary>
    public const string Rates = "rates";

    /// <summary><c>PriceRule</c>.</summary>
    public const string PriceRule = "price-rule";

    /// <summary><c>PriceInputs</c>.</summary>
    public const string PriceInputs = "price-inputs";

    /// <summary><c>MeasuredShop</c>: minutes and losses that the workshop measured.</summary>
    public const string Measured = "measured";

    /// <summary>Weights of the planner's objective.</summary>
    public const string Weights = "planner-weights";

    /// <summary>Closed days.</summary>
    public const string ClosedDays = "closed-days";

    /// <summary><c>MailSettings</c>.</summary>
    public const string Mail = "mail";

    /// <summary>Password of the mail server, encrypted.</summary>
    public const string MailPassword = "mail-password";

    /// <summary><c>InvoiceSettings</c>: tax rates, cash rounding, reminders.</summary>
    public const string Invoices = "invoice-settings";

    /// <summary><c>KeepingTimes</c>.</summary>
    public const string Keeping = "keeping-times";

    /// <summary>Shipped pages that the owner found right as they are.</summary>
    public const string LookedThrough = "looked-through";

    /// <summary>Who is away when.</summary>
    public const string Absences = "absences";

    /// <summary>Who works other hours than those of their week on one day.</summary>
    public const string DayHours = "day-hours";

    /// <summary>Seasons with their last day for orders.</summary>
    public const string Seasons = "seasons";

    /// <summary>The latest instant at which the clock is known to have been right: one row, and nothing that prices or plans depend on.</summary>
    public const string ClockSeen = "clock-seen";

    /// <summary>One material's sheet: the key follows.</summary>
    public const string MaterialPrefix = "material:";
}

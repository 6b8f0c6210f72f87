using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Sending;

/// <summary>One mail that is written by itself, as typed.</summary>
/// <param name="name">Name of its fields.</param>
/// <param name="heading">What it is.</param>
/// <param name="start">As saved.</param>
/// <param name="places">What is filled in.</param>
public sealed class TypedMail(string name, string heading, MailText start, IReadOnlyList<string> places)
{
    public string Places => string.Join(", ", places);
    public string Name => name;
    public string Heading => heading;
    public string? Subject { get; set; } = start.Subject;
    public string? Text { get; set; } = start.Text;

    public MailText Read() => new(Subject?.Trim() ?? "", Text?.Trim() ?? "");
}

/// <summary>The mails in one language, as typed.</summary>
/// <param name="language">Two-letter code.</param>
/// <param name="start">As saved.</param>
public sealed class TypedMails(string language, MailTexts start)
{
    private readonly string prefix = language == MailLanguages.First ? "" : language;

    public string Language => language;

    /// <summary>The language's name in English, which is the key of its word in others.</summary>
    public string Name => CultureInfo.GetCultureInfo(language).EnglishName;

    public IReadOnlyList<TypedMail> All =>
        field ??= [
            new(prefix + nameof(MailTexts.Ready), "Ready notice", start.Ready, MailTexts.Places),
            new(prefix + nameof(MailTexts.PickUp), "Still waiting to be picked up", start.PickUp, MailTexts.Places),
            new(prefix + nameof(MailTexts.Overdue), "With an overdue reminder", start.Overdue, MailTexts.Places),
            new(prefix + nameof(MailTexts.Question), "With a question", start.Question, MailTexts.PlacesOfQuestion),
        ];

    public MailTexts Read() => new(All[0].Read(), All[1].Read(), All[2].Read(), All[3].Read());
}

/// <summary>What is typed into the mail page.</summary>
public sealed class MailForm(MailSettings start)
{
    public string? Host { get; set; } = start.Host;
    public string? User { get; set; } = start.User;
    public string? Password { get; set; }
    public string? From { get; set; } = start.From;
    public MailLine Line { get; set; } = start.Line;
    public bool TellReady { get; set; } = start.TellReady;
    public bool MailOverdue { get; set; } = start.MailOverdue;
    public bool TellQuestion { get; set; } = start.TellQuestion;
    public bool TellWorkshop { get; set; } = start.TellWorkshop;

    /// <summary>All mails, language by language.</summary>
    public IReadOnlyList<TypedMails> Texts { get; } = [.. MailLanguages.All.Select(l => new TypedMails(l, MailLanguages.Of(start, l)))];

    /// <summary>The numbers.</summary>
    public NumberEntries<MailSettings> Numbers { get; } =
        new(
            [
                new(
                    nameof(MailSettings.Port),
                    "Port",
                    "",
                    m => m.Port,
                    (m, v) => m with { Port = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(MailSettings.ReadyAfterMinutes),
                    "Wait before the ready notice",
                    "min",
                    m => m.ReadyAfterMinutes,
                    (m, v) => m with { ReadyAfterMinutes = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(MailSettings.FirstPickUpDays),
                    "First pick-up reminder after",
                    "days",
                    m => m.FirstPickUpDays,
                    (m, v) => m with { FirstPickUpDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(MailSettings.SecondPickUpDays),
                    "Second pick-up reminder after",
                    "days",
                    m => m.SecondPickUpDays,
                    (m, v) => m with { SecondPickUpDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
            ],
            start
        );

    /// <summary>The settings as typed, or the numbers that cannot be read.</summary>
    public Result<MailInput> Read() =>
        Numbers
            .Read()
            .Then(m =>
                Result<MailInput>.Ok(
                    new MailInput(
                        m with
                        {
                            Host = Host?.Trim() ?? "",
                            User = User?.Trim() ?? "",
                            From = From?.Trim() ?? "",
                            Line = Line,
                            TellReady = TellReady,
                            MailOverdue = MailOverdue,
                            TellQuestion = TellQuestion,
                            TellWorkshop = TellWorkshop,
                            Ready = Texts[0].Read().Ready,
                            PickUp = Texts[0].Read().PickUp,
                            Overdue = Texts[0].Read().Overdue,
                            Question = Texts[0].Read().Question,
                            InLanguage = Texts.Skip(1).ToDictionary(t => t.Language, t => t.Read(), StringComparer.Ordinal),
                        },
                        string.IsNullOrEmpty(Password) ? null : Password
                    )
                )
            );
}

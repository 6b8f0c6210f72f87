using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Sending;

/// <summary>One mail that is written by itself, as typed.</summary>
/// <param name="name">Name of its fields.</param>
/// <param name="heading">What it is.</param>
/// <param name="start">As saved.</param>
/// <param name="places">What is filled in.</param>
public sealed class TypedMail(string name, string heading, MailText start, string places = "{name}, {order}, {workshop}")
{
    public string Places => places;
    public string Name => name;
    public string Heading => heading;
    public string? Subject { get; set; } = start.Subject;
    public string? Text { get; set; } = start.Text;

    public MailText Read() => new(Subject?.Trim() ?? "", Text?.Trim() ?? "");
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
    public IReadOnlyList<TypedMail> Texts { get; } =
    [
        new(nameof(MailSettings.Ready), "Ready notice", start.Ready),
        new(nameof(MailSettings.PickUp), "Still waiting to be picked up", start.PickUp),
        new(nameof(MailSettings.Overdue), "With an overdue reminder", start.Overdue),
        new(nameof(MailSettings.Question), "With a question", start.Question, "{name}, {order}, {workshop}, {question}"),
    ];

    /// <summary>The numbers.</summary>
    public NumberEntries<MailSettings> Numbers { get; } =
        new(
            [
                new(nameof(MailSettings.Port), "Port", "", m => m.Port, (m, v) => m with { Port = decimal.ToInt32(v!.Value) }),
                new(
                    nameof(MailSettings.ReadyAfterMinutes),
                    "Wait before the ready notice",
                    "min",
                    m => m.ReadyAfterMinutes,
                    (m, v) => m with { ReadyAfterMinutes = decimal.ToInt32(v!.Value) }
                ),
                new(
                    nameof(MailSettings.FirstPickUpDays),
                    "First reminder after",
                    "days",
                    m => m.FirstPickUpDays,
                    (m, v) => m with { FirstPickUpDays = decimal.ToInt32(v!.Value) }
                ),
                new(
                    nameof(MailSettings.SecondPickUpDays),
                    "Second reminder after",
                    "days",
                    m => m.SecondPickUpDays,
                    (m, v) => m with { SecondPickUpDays = decimal.ToInt32(v!.Value) }
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
                            Ready = Texts[0].Read(),
                            PickUp = Texts[1].Read(),
                            Overdue = Texts[2].Read(),
                            TellQuestion = TellQuestion,
                            TellWorkshop = TellWorkshop,
                            Question = Texts[3].Read(),
                        },
                        string.IsNullOrEmpty(Password) ? null : Password
                    )
                )
            );
}
